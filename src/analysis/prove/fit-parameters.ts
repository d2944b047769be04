import { guessAt } from '../../design/guess.ts';
import type { Design } from '../../design/types.ts';
import { boardPercent } from '../../design/unknown-board.ts';
import { gapToleranceMm } from '../margin/tolerances.ts';
import type { BenchPose } from './bench-links.ts';
import type { ParameterGroup, ParameterId } from './parameter-names.ts';

/**
 * One unknown of the fit with what is known of it beforehand. The fit works in `z`, the distance from the prior in prior standard
 * deviations, so that every prior is a standard normal and every variable has the same natural step.
 */
export interface FitParameter {
  readonly id: ParameterId;
  /** Pose it belongs to; null where it is common to all readings. */
  readonly pose: number | null;
  readonly name: string;
  readonly group: ParameterGroup;
  /** Where the value stands in the design; null where it has no key of its own. */
  readonly path: string | null;
  /** Of `prior`: the design key's unit, `1` for factors, `mm` for lengths. */
  readonly unit: 'nF' | 'ohm' | 'V' | 'A' | 'nC' | 'kHz' | 'K/W' | '1' | 'mm';
  readonly prior: number;
  /** ratio: value = prior exp(sigma z); shift: value = prior + sigma z. */
  readonly kind: 'ratio' | 'shift';
  readonly sigma: number;
  /** What the width of the prior rests on, in words. */
  readonly because: string;
}

/** Half-widths at 95 % are this many standard deviations. */
export const TWO_SIDED_95 = 1.959964;

export function valueAt(parameter: FitParameter, z: number): number {
  const { prior, sigma, kind } = parameter;
  return kind === 'ratio' ? prior * Math.exp(sigma * z) : prior + sigma * z;
}

/** How far stated values may be off, 95 %: common practice, no source, unless the document says it itself. */
const STATED = Object.freeze({
  supplyResistance: 0.7,
  switchResistance: 0.3,
  rectifierDrop: 0.25,
  rectifierResistance: 0.3,
  dropoutV: 0.03,
  dropoutOhm: 0.3,
  targetLowV: 0.1,
  targetHighV: 0.2,
  targetDecay: 0.2,
  outputV: 0.01,
  idleCurrent: 0.3,
  gateCharge: 0.3,
  receiverIdle: 0.5,
  parallelCapacitance: 0.2,
  coilCurrentLimit: 0.1,
  supplyCurrentLimit: 0.05,
  regulatorLimit: 0.1,
  thermal: 0.25,
  /** AC resistance of a winding with its joints; less where it was measured. */
  windingResistance: 0.2,
  measuredResistance: 0.05,
  /** Coupling at given inductances: model and winding geometry. */
  coupling: 0.03,
  /** Added to an inductance where a ferrite stands behind the coil: permeability and standoff. */
  ferrite: 0.02,
});

/** Half-width of a spacer's thickness and of a reading's place, mm (common practice, no source: cards and callipers, a printed grid). */
export const SPACER_MM = 0.1;
export const PLACE_MM = 0.5;

/** Everything the fit may move for a design measured at the given poses. */
export function fitParameters(design: Design, poses: readonly BenchPose[]): FitParameter[] {
  const { drive } = design.transmitter;
  const { pickup } = design.receiver;
  const assumed = new Set(design.assumed ?? []);
  const out: FitParameter[] = [];

  const put = (
    id: ParameterId,
    name: string,
    group: ParameterGroup,
    path: string | null,
    unit: FitParameter['unit'],
    prior: number,
    kind: FitParameter['kind'],
    half: number,
    because: string,
    pose: number | null = null,
  ): void => {
    if (!(half > 0) || (kind === 'ratio' && !(prior > 0))) return;
    // A ratio's half-width is a fraction of the value: x and 1/x are equally likely.
    const sigma = (kind === 'ratio' ? Math.log1p(half) : half) / TWO_SIDED_95;
    out.push({ id, pose, name, group, path, unit, prior, kind, sigma, because });
  };
  /** A value of the document: its guess where it was not given, else the stated width. */
  const value = (
    id: ParameterId,
    name: string,
    group: ParameterGroup,
    path: string,
    unit: FitParameter['unit'],
    prior: number,
    kind: FitParameter['kind'],
    stated: number,
  ): void => {
    const guess = assumed.has(path) ? guessAt(path) : null;
    if (guess === null) {
      put(id, name, group, path, unit, prior, kind, stated, 'stated; usual spread');
      return;
    }
    const absolute = 'relative' in guess ? guess.relative * prior : guess.absolute;
    put(id, name, group, path, unit, prior, kind, kind === 'ratio' ? absolute / prior : absolute, 'not given: a guess');
  };
  const tolerance = (
    id: ParameterId,
    name: string,
    group: ParameterGroup,
    path: string,
    unit: FitParameter['unit'],
    prior: number,
    percent: number,
  ): void => put(id, name, group, path, unit, prior, 'ratio', percent / 100, `tolerance ± ${percent} %`);

  const inTransmitter = 'transmitter.drive';
  const inReceiver = 'receiver.pickup';
  tolerance(
    'transmitterCapacitance',
    'transmitter series capacitor',
    'tuning',
    `${inTransmitter}.seriesCapacitanceNf`,
    'nF',
    drive.seriesCapacitanceNf,
    boardPercent(drive.seriesCapacitanceTolerancePercent, drive.unknown, 'capacitor'),
  );
  tolerance(
    'receiverCapacitance',
    'receiver series capacitor',
    'tuning',
    `${inReceiver}.seriesCapacitanceNf`,
    'nF',
    pickup.seriesCapacitanceNf,
    boardPercent(pickup.seriesCapacitanceTolerancePercent, pickup.unknown, 'capacitor'),
  );
  for (const side of ['transmitter', 'receiver'] as const) {
    const { coil, ferrite } = design[side];
    const percent = coil.inductanceTolerancePercent;
    const half = Math.hypot(percent / 100, ferrite === null ? 0 : STATED.ferrite);
    const because = `tolerance ± ${percent} %${ferrite === null ? '' : ', and the ferrite'}`;
    put(`${side}Inductance`, `${side} inductance`, 'tuning', null, '1', 1, 'ratio', half, because);
    const measured = coil.resistanceMohm !== null;
    put(
      `${side}Resistance`,
      `${side} coil resistance`,
      'resistance',
      null,
      '1',
      1,
      'ratio',
      measured ? STATED.measuredResistance : STATED.windingResistance,
      measured ? 'measured' : 'computed; joints and strands',
    );
  }
  put('coupling', 'coupling', 'coupling', null, '1', 1, 'ratio', STATED.coupling, 'computed; usual spread of windings');
  put(
    'gap',
    'gap (common error)',
    'coupling',
    null,
    'mm',
    0,
    'shift',
    gapToleranceMm(design),
    design.stack.length > 0 ? "the stack's tolerances" : 'read with a ruler',
  );
  if (poses.length > 1) {
    poses.forEach((pose, index) => {
      put('poseGap', `gap at ${pose.name}`, 'place', null, 'mm', 0, 'shift', SPACER_MM, 'spacer thickness', index);
      if (Math.hypot(pose.xMm, pose.yMm) > 1e-9)
        put('poseOffset', `offset at ${pose.name}`, 'place', null, 'mm', 0, 'shift', PLACE_MM, 'printed grid', index);
    });
  }
  const supply = drive.supplyResistanceOhm;
  value(
    'supplyResistance',
    'resistance of supply and cable',
    'resistance',
    `${inTransmitter}.supplyResistanceOhm`,
    'ohm',
    supply,
    supply > 0 ? 'ratio' : 'shift',
    supply > 0 ? STATED.supplyResistance : 0.1,
  );
  value(
    'switchResistance',
    'bridge switch resistance',
    'resistance',
    `${inTransmitter}.switchResistanceOhm`,
    'ohm',
    drive.switchResistanceOhm,
    'ratio',
    STATED.switchResistance,
  );
  value(
    'transmitterIdle',
    "transmitter board's own current",
    'standing',
    `${inTransmitter}.idleCurrentA`,
    'A',
    drive.idleCurrentA,
    'ratio',
    STATED.idleCurrent,
  );
  value(
    'gateCharge',
    'gate charge',
    'standing',
    `${inTransmitter}.gateChargeNc`,
    'nC',
    drive.gateChargeNc,
    'ratio',
    STATED.gateCharge,
  );
  tolerance(
    'frequencyMin',
    'lowest frequency',
    'limit',
    `${inTransmitter}.frequencyMinKhz`,
    'kHz',
    drive.frequencyMinKhz,
    drive.frequencyTolerancePercent,
  );
  tolerance(
    'frequencyMax',
    'highest frequency',
    'limit',
    `${inTransmitter}.frequencyMaxKhz`,
    'kHz',
    drive.frequencyMaxKhz,
    drive.frequencyTolerancePercent,
  );
  value(
    'coilCurrentLimit',
    'coil-current limit',
    'limit',
    `${inTransmitter}.coilCurrentLimitA`,
    'A',
    drive.coilCurrentLimitA,
    'ratio',
    STATED.coilCurrentLimit,
  );
  value(
    'supplyCurrentLimit',
    'current limit of the supply',
    'limit',
    `${inTransmitter}.supplyCurrentLimitA`,
    'A',
    drive.supplyCurrentLimitA,
    'ratio',
    STATED.supplyCurrentLimit,
  );
  value(
    'rectifierDrop',
    'rectifier drop',
    'resistance',
    `${inReceiver}.rectifier.dropV`,
    'V',
    pickup.rectifier.dropV,
    'ratio',
    STATED.rectifierDrop,
  );
  value(
    'rectifierResistance',
    'rectifier resistance',
    'resistance',
    `${inReceiver}.rectifier.resistanceOhm`,
    'ohm',
    pickup.rectifier.resistanceOhm,
    'ratio',
    STATED.rectifierResistance,
  );
  const { regulator, target } = pickup;
  const inRegulator = `${inReceiver}.regulator`;
  value(
    'dropoutVoltage',
    'regulator drop-out at no load',
    'limit',
    `${inRegulator}.dropoutV`,
    'V',
    regulator.dropoutV,
    'shift',
    STATED.dropoutV,
  );
  value(
    'dropoutResistance',
    'regulator drop-out per ampere',
    'limit',
    `${inRegulator}.dropoutOhm`,
    'ohm',
    regulator.dropoutOhm,
    'ratio',
    STATED.dropoutOhm,
  );
  value(
    'outputVoltage',
    'regulated output voltage',
    'target',
    `${inRegulator}.outputV`,
    'V',
    regulator.outputV,
    'ratio',
    STATED.outputV,
  );
  value(
    'regulatorIdle',
    "regulator's own current",
    'standing',
    `${inRegulator}.idleCurrentA`,
    'A',
    regulator.idleCurrentA,
    'ratio',
    STATED.receiverIdle,
  );
  value(
    'regulatorLimit',
    "regulator's current limit",
    'limit',
    `${inRegulator}.currentLimitA`,
    'A',
    regulator.currentLimitA,
    'ratio',
    STATED.regulatorLimit,
  );
  value(
    'targetLow',
    'rectified voltage asked for under load',
    'target',
    `${inReceiver}.target.lowV`,
    'V',
    target.lowV,
    'shift',
    STATED.targetLowV,
  );
  if (target.highV > target.lowV) {
    value(
      'targetHigh',
      'rectified voltage asked for at no load',
      'target',
      `${inReceiver}.target.highV`,
      'V',
      target.highV,
      'shift',
      STATED.targetHighV,
    );
    value(
      'targetDecay',
      'load over which that voltage falls',
      'target',
      `${inReceiver}.target.decayA`,
      'A',
      target.decayA,
      'ratio',
      STATED.targetDecay,
    );
  }
  value(
    'parallelCapacitance',
    'capacitor across the rectifier',
    'tuning',
    `${inReceiver}.parallelCapacitanceNf`,
    'nF',
    pickup.parallelCapacitanceNf,
    'ratio',
    STATED.parallelCapacitance,
  );
  value(
    'receiverThermal',
    'receiver temperature rise per watt',
    'heat',
    'receiver.thermal.resistanceKPerW',
    'K/W',
    design.receiver.thermal.resistanceKPerW,
    'ratio',
    STATED.thermal,
  );
  value(
    'transmitterThermal',
    'transmitter temperature rise per watt',
    'heat',
    'transmitter.thermal.resistanceKPerW',
    'K/W',
    design.transmitter.thermal.resistanceKPerW,
    'ratio',
    STATED.thermal,
  );
  return out;
}
