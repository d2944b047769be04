import { BatchLink, type LinkBatch } from './batch-link.ts';
import { OVERLOADED, TRANSMITTER_PEAK } from './first-harmonic-kernel.ts';
import type { Boards } from './types.ts';

/** States that a batch tells apart; the index is the code. */
export const BATCH_STATES = Object.freeze(['regulated', 'overfed', 'starved', 'overvoltage'] as const);

export const REGULATED = 0;
export const OVERFED = 1;
export const STARVED = 2;
export const OVERVOLTED = 3;

/** Closed-loop operating points of many poses under one load; one entry per pose, SI. */
export interface OperateBatch {
  readonly frequency: Float64Array;
  readonly rectifiedV: Float64Array;
  readonly supplyA: Float64Array;
  /** rms */
  readonly transmitterA: Float64Array;
  /** Loss in the receiver, W. */
  readonly receiverLoss: Float64Array;
  /** Index into `BATCH_STATES`. */
  readonly state: Uint8Array;
}

export function operateBatch(count: number): OperateBatch {
  const column = () => new Float64Array(count);
  return {
    frequency: column(),
    rectifiedV: column(),
    supplyA: column(),
    transmitterA: column(),
    receiverLoss: column(),
    state: new Uint8Array(count),
  };
}

export interface BatchOperateOptions {
  /** corrected: the parallel capacitor only takes its charge; exact: its whole waveform. */
  readonly waveform: 'corrected' | 'exact';
  /** Copper temperature, C; NaN: ambient. Maps under load are warmer: give what the centre pose settles at. */
  readonly copperC: number;
}

export const BATCH_OPERATE_DEFAULTS: BatchOperateOptions = Object.freeze({ waveform: 'exact', copperC: Number.NaN });

/**
 * Where the control comes to rest at each pose for one load: the first frequency from the top at which the target is met within the
 * limits, least drive where the top is already too much, or the frequency of the largest rectified voltage.
 *
 * @param loadA A. @param out results, filled and returned. @param from @param to chunk of poses.
 *
 * Accuracy: against the operating point of tier `fast` at the same copper temperature 1e-4 (exact waveform) where regulated; starved
 * poses are placed on the nearest node of the window only. Speed in README.
 */
export function batchOperate(
  batch: LinkBatch,
  boards: Boards,
  loadA: number,
  out: OperateBatch,
  options: Partial<BatchOperateOptions> = BATCH_OPERATE_DEFAULTS,
  from = 0,
  to = batch.m.length,
): OperateBatch {
  const { waveform, copperC } = { ...BATCH_OPERATE_DEFAULTS, ...options };
  const copper = Number.isNaN(copperC) ? boards.thermal.ambient : copperC;
  const corrected = waveform === 'corrected';
  const solver = new BatchLink(boards);
  const { drive, pickup } = boards;
  const { regulator } = pickup;
  const target = solver.target(loadA);
  const needed = solver.neededBase + solver.neededSlope * loadA;
  const wanted = solver.demand(loadA, target);
  for (let i = from; i < to; i++) {
    solver.load(batch, i, copper, copper);
    const node = solver.firstReached(wanted, target, corrected);
    let volts = target;
    let state = REGULATED;
    let frequency = drive.frequencyMax;
    if (node > 0) {
      frequency = crossing(solver, loadA, target, node, corrected);
      const peak = solver.result[TRANSMITTER_PEAK];
      if (peak > Math.SQRT2 * drive.coilCurrentLimit || solver.supplyCurrent(frequency) > drive.supplyCurrentLimit) {
        frequency = highestVoltage(solver, loadA, target, needed);
        volts = reached[0];
      }
    } else if (node === 0) {
      solver.aim(frequency, solver.levelVolt);
      if (point(solver, loadA, target, corrected) < 0) {
        volts = openVoltage(solver, loadA, target);
        state = volts > regulator.overvoltage ? OVERVOLTED : OVERFED;
      } else {
        // Between least and full drive: the level is what the point needs.
        solver.aim(frequency);
        point(solver, loadA, target, corrected);
      }
    } else {
      frequency = highestVoltage(solver, loadA, target, needed);
      volts = reached[0];
    }
    if (volts < needed * (1 - 1e-9)) state = STARVED;
    const outputV = Math.max(0, Math.min(regulator.outputV, volts - regulator.dropoutV - solver.neededSlope * loadA));
    out.frequency[i] = frequency;
    out.rectifiedV[i] = volts;
    out.supplyA[i] = solver.supplyCurrent(frequency);
    out.transmitterA[i] = solver.result[TRANSMITTER_PEAK] * Math.SQRT1_2;
    out.receiverLoss[i] = solver.receiverLoss(volts, solver.demand(loadA, volts), outputV * loadA);
    out.state[i] = state;
  }
  return out;
}

const reached = new Float64Array(1);

function point(solver: BatchLink, load: number, volts: number, corrected: boolean): number {
  return corrected ? solver.correctedExcess(load, volts) : solver.excess(load, volts);
}

/** Frequency between a node and the one above it where the target is just met; Illinois. Leaves the point in `result`. */
function crossing(solver: BatchLink, load: number, volts: number, node: number, corrected: boolean): number {
  let a = solver.frequencyAt(node - 1);
  let b = solver.frequencyAt(node);
  solver.aim(a);
  let atA = point(solver, load, volts, corrected);
  solver.aim(b);
  let atB = point(solver, load, volts, corrected);
  let side = 0;
  let f = b;
  for (let k = 0; k < 30; k++) {
    f = (a * atB - b * atA) / (atB - atA);
    solver.aim(f);
    const at = point(solver, load, volts, corrected);
    if (at < 1e-7 * volts && at > -1e-7 * volts) break;
    if (at > 0) {
      a = f;
      atA = at;
      if (side === 1) atB /= 2;
      side = 1;
    } else {
      b = f;
      atB = at;
      if (side === -1) atA /= 2;
      side = -1;
    }
  }
  return f;
}

/** Rectified voltage of the present setting for a load: Newton from a guess; below zero where there is none. Leaves the point. */
function openVoltage(solver: BatchLink, load: number, guess: number): number {
  let volts = guess;
  for (let k = 0; k < 40; k++) {
    const h = 1e-5 * (1 + volts);
    const beyond = solver.excess(load, volts + h);
    const at = solver.excess(load, volts);
    let move = (-at * h) / (beyond - at);
    if (!(move > -0.5 * volts)) move = -0.5 * volts;
    else if (move > 0.5 * volts) move = 0.5 * volts;
    volts += move;
    if (volts < 1e-3) return 0;
    if (move < 1e-7 * volts && move > -1e-7 * volts) break;
  }
  solver.excess(load, volts);
  return volts;
}

/** Node of the largest rectified voltage within the limits, on the way down; the voltage in `reached[0]`, the point in `result`. */
function highestVoltage(solver: BatchLink, load: number, target: number, needed: number): number {
  const { drive } = solver.boards;
  let best = 0;
  let frequency = drive.frequencyMax;
  for (let j = 0; j < solver.nodes; j++) {
    const f = solver.frequencyAt(j);
    solver.aim(f);
    const volts = openVoltage(solver, load, best > 0 ? best : needed);
    if (volts <= best) continue;
    if (
      solver.result[TRANSMITTER_PEAK] > Math.SQRT2 * drive.coilCurrentLimit ||
      solver.result[OVERLOADED] > 0 ||
      solver.supplyCurrent(f) > drive.supplyCurrentLimit
    ) {
      break;
    }
    best = Math.min(volts, target);
    frequency = f;
  }
  solver.aim(frequency);
  reached[0] = best > 0 ? openVoltage(solver, load, best) : 0;
  return frequency;
}
