import { parsePath, valueAt } from '../../design/path.ts';
import type { Design } from '../../design/types.ts';
import { type Tolerance, tolerancesOf } from '../margin/tolerances.ts';

/** One input that may move the largest current. */
export interface SensitivityInput {
  readonly name: string;
  readonly path: string;
  /** What is known about it; null: it is stated without a tolerance, so only "per percent" can be asked. */
  readonly tolerance: Tolerance | null;
}

/** Board values that are worth asking even where they are stated without a tolerance. */
const BOARD_INPUTS: readonly (readonly [string, string])[] = Object.freeze([
  ['supply voltage', 'transmitter.drive.supplyV'],
  ['resistance of supply and cable', 'transmitter.drive.supplyResistanceOhm'],
  ['most the supply gives', 'transmitter.drive.supplyCurrentLimitA'],
  ['transmitter series capacitor', 'transmitter.drive.seriesCapacitanceNf'],
  ['lowest frequency', 'transmitter.drive.frequencyMinKhz'],
  ['highest frequency', 'transmitter.drive.frequencyMaxKhz'],
  ['switch resistance', 'transmitter.drive.switchResistanceOhm'],
  ['coil current limit', 'transmitter.drive.coilCurrentLimitA'],
  ['receiver series capacitor', 'receiver.pickup.seriesCapacitanceNf'],
  ['receiver parallel capacitor', 'receiver.pickup.parallelCapacitanceNf'],
  ['rectifier drop', 'receiver.pickup.rectifier.dropV'],
  ['rectifier resistance', 'receiver.pickup.rectifier.resistanceOhm'],
  ['regulator output voltage', 'receiver.pickup.regulator.outputV'],
  ['regulator drop-out', 'receiver.pickup.regulator.dropoutV'],
  ['regulator drop-out per ampere', 'receiver.pickup.regulator.dropoutOhm'],
  ['regulator current limit', 'receiver.pickup.regulator.currentLimitA'],
]);

/** Mutual inductance alone: what the place of the coils does beyond their inductances. */
export const MUTUAL = 'link.mutualInductanceH';

/** Every input asked: those with a tolerance, then board values without one, then the mutual inductance alone. */
export function sensitivityInputs(design: Design): SensitivityInput[] {
  const known = tolerancesOf(design).map((tolerance): SensitivityInput => {
    const { name, path } = tolerance;
    return { name, path, tolerance };
  });
  const paths = new Set(known.map(({ path }) => path));
  const further = BOARD_INPUTS.filter(([, path]) => !paths.has(path) && numberAt(design, path) > 0).map(
    ([name, path]): SensitivityInput => ({ name, path, tolerance: null }),
  );
  return [...known, ...further, { name: 'mutual inductance alone', path: MUTUAL, tolerance: null }];
}

/** The number at a path; NaN where there is none. */
export function numberAt(design: Design, path: string): number {
  const parsed = parsePath(path);
  const value = parsed.ok ? valueAt(design, parsed.segments) : undefined;
  return typeof value === 'number' ? value : Number.NaN;
}
