import type { Boards, LinkElectrical } from '../../physics/circuit/types.ts';
import { type BenchLink, type LinkScales, shiftedLink } from './bench-links.ts';
import { type FitParameter, valueAt } from './fit-parameters.ts';

/** Boards and link as a set of fitted values makes them. */
export interface BenchState {
  readonly z: ArrayLike<number>;
  readonly boards: Boards;
  readonly scales: LinkScales;
  /** m */
  readonly gapShift: number;
  readonly poseGapShift: ReadonlyMap<number, number>;
  readonly poseOffsetShift: ReadonlyMap<number, number>;
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

/**
 * The state for values `z`. The receiver's protections and the board's protocol are put aside: a reading was taken, so nothing stopped it.
 *
 * @param base boards of the design, unfitted.
 */
export function stateAt(base: Boards, parameters: readonly FitParameter[], z: ArrayLike<number>): BenchState {
  const drive: Mutable<Boards['drive']> = { ...base.drive };
  const regulator: Mutable<Boards['pickup']['regulator']> = { ...base.pickup.regulator };
  const rectifier: Mutable<Boards['pickup']['rectifier']> = { ...base.pickup.rectifier };
  const target: Mutable<Boards['pickup']['target']> = { ...base.pickup.target };
  const pickup: Mutable<Boards['pickup']> = { ...base.pickup, regulator, rectifier, target };
  const thermal: Mutable<Boards['thermal']> = { ...base.thermal };
  const scales: Mutable<LinkScales> = { l1: 1, l2: 1, coupling: 1, r1: 1, r2: 1 };
  const poseGapShift = new Map<number, number>();
  const poseOffsetShift = new Map<number, number>();
  let gapShift = 0;
  for (let j = 0; j < parameters.length; j++) {
    const parameter = parameters[j];
    const value = valueAt(parameter, z[j]);
    switch (parameter.id) {
      case 'transmitterCapacitance':
        drive.seriesCapacitance = value / 1e9;
        break;
      case 'receiverCapacitance':
        pickup.seriesCapacitance = value / 1e9;
        break;
      case 'transmitterInductance':
        scales.l1 = value;
        break;
      case 'receiverInductance':
        scales.l2 = value;
        break;
      case 'transmitterResistance':
        scales.r1 = value;
        break;
      case 'receiverResistance':
        scales.r2 = value;
        break;
      case 'coupling':
        scales.coupling = value;
        break;
      case 'gap':
        gapShift = value / 1e3;
        break;
      case 'poseGap':
        poseGapShift.set(parameter.pose ?? -1, value / 1e3);
        break;
      case 'poseOffset':
        poseOffsetShift.set(parameter.pose ?? -1, value / 1e3);
        break;
      case 'supplyResistance':
        drive.supplyResistance = Math.max(0, value);
        break;
      case 'switchResistance':
        drive.switchResistance = value;
        break;
      case 'transmitterIdle':
        drive.idleCurrent = value;
        break;
      case 'gateCharge':
        drive.gateCharge = value / 1e9;
        break;
      case 'frequencyMin':
        drive.frequencyMin = value * 1e3;
        break;
      case 'frequencyMax':
        drive.frequencyMax = value * 1e3;
        break;
      case 'coilCurrentLimit':
        drive.coilCurrentLimit = value;
        break;
      case 'supplyCurrentLimit':
        drive.supplyCurrentLimit = value;
        break;
      case 'rectifierDrop':
        rectifier.dropV = value;
        break;
      case 'rectifierResistance':
        rectifier.resistance = value;
        break;
      case 'dropoutVoltage':
        regulator.dropoutV = Math.max(0, value);
        break;
      case 'dropoutResistance':
        regulator.dropoutResistance = value;
        break;
      case 'outputVoltage':
        regulator.outputV = value;
        break;
      case 'regulatorIdle':
        regulator.idleCurrent = value;
        break;
      case 'regulatorLimit':
        regulator.currentLimit = value;
        break;
      case 'targetLow':
        target.lowV = value;
        break;
      case 'targetHigh':
        target.highV = value;
        break;
      case 'targetDecay':
        target.decayA = value;
        break;
      case 'parallelCapacitance':
        pickup.parallelCapacitance = value / 1e9;
        break;
      case 'receiverThermal':
        thermal.receiverResistance = value;
        break;
      case 'transmitterThermal':
        thermal.transmitterResistance = value;
        break;
    }
  }
  // A window of one frequency stays one.
  if (base.drive.frequencyMin === base.drive.frequencyMax) drive.frequencyMin = drive.frequencyMax;
  drive.frequencyMin = Math.min(drive.frequencyMin, drive.frequencyMax);
  target.highV = Math.max(target.highV, target.lowV);
  return { z, boards: { drive, pickup, thermal }, scales, gapShift, poseGapShift, poseOffsetShift };
}

/** The boards under a measured supply voltage, with nothing that stops a reading. */
export function benchBoards(state: BenchState, supplyV: number): Boards {
  const { drive, pickup, thermal } = state.boards;
  const regulator = { ...pickup.regulator, overvoltage: Number.POSITIVE_INFINITY };
  return { drive: { ...drive, supplyV }, pickup: { ...pickup, regulator, stop: null }, thermal };
}

/** The link at a pose of the bench under a state; `pose` -1 for a place that no reading was taken at. */
export function benchElectrical(link: BenchLink, pose: number, state: BenchState): LinkElectrical {
  const gap = state.gapShift + (state.poseGapShift.get(pose) ?? 0);
  return shiftedLink(link, gap, state.poseOffsetShift.get(pose) ?? 0, state.scales);
}
