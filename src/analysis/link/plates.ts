import type { Pose } from '../../physics/coil/types.ts';
import type { ExternalField } from '../../physics/conductor/stations.ts';
import { createFieldModel } from '../../physics/field/field-model.ts';
import type { LinkSide } from '../../physics/field/types.ts';

export type PlateLevel = 'coarse' | 'fine';

/** What ferrite and metal add to the values in air at one pose. H, ohm; errors are half-widths. */
export interface PlateChange {
  readonly dL1: number;
  readonly dL2: number;
  readonly dM: number;
  readonly errorL1: number;
  readonly errorL2: number;
  readonly errorM: number;
  readonly errorCoupling: number;
  /** Core loss, ohm/Hz. */
  readonly core1: number;
  readonly core2: number;
  /** Loss in metal sheets at the context's middle frequency, ohm. */
  readonly metal1: number;
  readonly metal2: number;
}

export const NO_PLATE_CHANGE: PlateChange = Object.freeze({
  dL1: 0,
  dL2: 0,
  dM: 0,
  errorL1: 0,
  errorL2: 0,
  errorM: 0,
  errorCoupling: 0,
  core1: 0,
  core2: 0,
  metal1: 0,
  metal2: 0,
});

/** Numbers a change is packed into. */
export const PLATE_OUTPUTS = 11;

const KEYS = Object.keys(NO_PLATE_CHANGE) as (keyof PlateChange)[];

export function packChange(change: PlateChange, out: Float64Array): Float64Array {
  for (let i = 0; i < PLATE_OUTPUTS; i++) out[i] = change[KEYS[i]!];
  return out;
}

/** @param bound added to the errors of L1, L2 and M, H */
export function unpackChange(values: Float64Array, bound: readonly [number, number, number]): PlateChange {
  return {
    dL1: values[0]!,
    dL2: values[1]!,
    dM: values[2]!,
    errorL1: Math.abs(values[3]!) + bound[0],
    errorL2: Math.abs(values[4]!) + bound[1],
    errorM: Math.abs(values[5]!) + bound[2],
    errorCoupling: Math.abs(values[6]!),
    core1: values[7]!,
    core2: values[8]!,
    metal1: values[9]!,
    metal2: values[10]!,
  };
}

/** The plates of a pair. */
export interface Plates {
  at(pose: Pose, level: PlateLevel): PlateChange;
  /** Each coil with its own ferrite and metal, the other side absent. */
  alone(): {
    readonly dL1: number;
    readonly dL2: number;
    /** Field of the plates at the coil's own turns per ampere, for proximity loss; null without ferrite. */
    readonly field1: ExternalField | null;
    readonly field2: ExternalField | null;
  };
}

/** Ratio of cell sizes of the two grids, squared, less one: the method converges with the square of the cell. */
const RICHARDSON = 1.5 ** 2 - 1;

/** Null where neither side has a plate. */
export function createPlates(transmitter: LinkSide, receiver: LinkSide, middleFrequency: number): Plates | null {
  if (!transmitter.ferrite && !transmitter.metal && !receiver.ferrite && !receiver.metal) return null;
  const model = createFieldModel(transmitter, receiver, { frequency: middleFrequency });
  const at = (pose: Pose, level: PlateLevel): PlateChange => {
    const low = model.solveLevel(pose, 2);
    const high = level === 'fine' ? model.solveLevel(pose, 3) : low;
    const mix = (key: 'dL1' | 'dL2' | 'dM' | 'r1' | 'r2'): number => high[key] + (high[key] - low[key]) / RICHARDSON;
    const error = (key: 'dL1' | 'dL2' | 'dM'): number =>
      level === 'fine' ? Math.abs(high[key] - low[key]) / RICHARDSON : 0.01 * Math.abs(low[key]);
    return {
      dL1: mix('dL1'),
      dL2: mix('dL2'),
      dM: mix('dM'),
      errorL1: error('dL1'),
      errorL2: error('dL2'),
      errorM: error('dM'),
      errorCoupling: 0.0005,
      core1: 0,
      core2: 0,
      metal1: mix('r1'),
      metal2: mix('r2'),
    };
  };
  const far: Pose = { x: 0, y: 0, z: 10, yaw: 0, tiltX: 0, tiltY: 0 };
  return {
    at,
    alone: () => {
      const { dL1, dL2 } = at(far, 'coarse');
      return { dL1, dL2, field1: null, field2: null };
    },
  };
}
