import { BatchLink, type LinkBatch } from './batch-link.ts';
import { OVERLOADED, R1, TRANSMITTER_PEAK } from './first-harmonic-kernel.ts';
import { CASE_SHARE } from './thermal.ts';
import type { Boards, Limit } from './types.ts';

/** Limits in the order of the codes of `MaxOutputBatch.limitedBy`. */
export const LIMIT_CODES: readonly Limit[] = Object.freeze([
  'link',
  'regulatorCurrent',
  'coilCurrent',
  'supplyCurrent',
  'shutdown',
  'cell',
  'touch',
  'overvoltage',
  'asleep',
  'stopped',
]);

const LINK = 0;
const REGULATOR = 1;
const COIL = 2;
const SUPPLY = 3;
const SHUTDOWN = 4;
const CELL = 5;
const TOUCH = 6;
const OVERVOLTAGE = 7;

export interface MaxOutputBatch {
  /** A, per pose. */
  readonly current: Float64Array;
  /** Index into `LIMIT_CODES`, per pose. */
  readonly limitedBy: Uint8Array;
  /** Drive frequency at the limit, Hz, per pose. */
  readonly frequency: Float64Array;
}

export interface BatchMaxOptions {
  readonly ignoreThermal: boolean;
  readonly charging: boolean;
}

export const BATCH_MAX_DEFAULTS: BatchMaxOptions = Object.freeze({ ignoreThermal: false, charging: false });

/** Results for `count` poses. */
export function maxOutputBatch(count: number): MaxOutputBatch {
  return {
    current: new Float64Array(count),
    limitedBy: new Uint8Array(count),
    frequency: new Float64Array(count),
  };
}

/** Loads below the limit at which heat and overvoltage are sampled. */
const HEAT_SAMPLES = 6;
const HOTTEST_COPPER_C = 150;

/**
 * Largest load per pose, first harmonic: what `maxOutput` with tier `fast` finds, for maps.
 *
 * @param batch poses. @param boards boards. @param out results, `maxOutputBatch(poses)`, filled and returned.
 * @param from first pose and @param to one past the last, for work in chunks.
 *
 * Accuracy: against `maxOutput` fast within 0.5 % in current (tests); the model itself: README. Correct maps at sampled poses with
 * `correctionAt`. About 3 us a pose.
 */
export function batchMaxOutput(
  batch: LinkBatch,
  boards: Boards,
  out: MaxOutputBatch,
  options: Partial<BatchMaxOptions> = BATCH_MAX_DEFAULTS,
  from = 0,
  to = batch.m.length,
): MaxOutputBatch {
  const { ignoreThermal, charging } = { ...BATCH_MAX_DEFAULTS, ...options };
  const solver = new BatchLink(boards);
  const { ambient } = boards.thermal;
  const found = new Float64Array(FOUND_SIZE);
  for (let i = from; i < to; i++) {
    solver.load(batch, i, ambient, ambient);
    glance(solver, found);
    warmTo(solver, found, ambient);
    follow(solver, found);
    if (!ignoreThermal) bound(solver, found, charging, ambient);
    else boundVoltage(solver, found);
    out.current[i] = found[CURRENT];
    out.limitedBy[i] = found[LIMIT];
    out.frequency[i] = found[FREQUENCY];
  }
  return out;
}

const CURRENT = 0;
const LIMIT = 1;
const FREQUENCY = 2;
const RECEIVER_C = 3;
const FOUND_SIZE = 4;

/** Exact load at the frequency last refined. */
const refined = new Float64Array(1);
/** The cold walk only finds the temperatures: every third node will do. */
const COLD_STRIDE = 3;

/** Cold: rough place of the limit, enough for the temperatures there. */
function glance(solver: BatchLink, found: Float64Array): void {
  const { drive, pickup } = solver.boards;
  solver.sweep(COLD_STRIDE);
  let load = 0;
  let frequency = drive.frequencyMax;
  for (let j = 0; j < solver.nodes; j += COLD_STRIDE) {
    if (!(solver.edges[j] > load)) continue;
    if (brokenAt(solver, j) !== LINK) break;
    load = solver.edges[j];
    frequency = solver.frequencyAt(j);
  }
  found[CURRENT] = Math.min(load, pickup.regulator.currentLimit);
  found[FREQUENCY] = frequency;
}

/** Walks the window as the control does; see `maxOutput`. */
function follow(solver: BatchLink, found: Float64Array): void {
  const { drive, pickup } = solver.boards;
  const { nodes, edges } = solver;
  solver.sweep(1);
  let best = -1;
  let bestLoad = 0;
  let limit = LINK;
  let load = 0;
  let frequency = drive.frequencyMax;
  for (let j = 0; j < nodes; j++) {
    if (!(edges[j] > bestLoad)) continue;
    limit = brokenAt(solver, j);
    if (limit !== LINK) {
      // Which limit stops the walk is settled between this node and the one before it.
      if (j === 0) frequency = solver.frequencyAt(0);
      else {
        frequency = limitBetween(solver, solver.frequencyAt(j - 1), solver.frequencyAt(j), edges[j]);
        load = refined[0];
      }
      break;
    }
    best = j;
    bestLoad = edges[j];
    // More than the regulator passes is never asked.
    if (bestLoad > 1.1 * pickup.regulator.currentLimit) break;
  }
  if (limit === LINK && best >= 0) {
    if (bestLoad > 1.1 * pickup.regulator.currentLimit) {
      frequency = solver.frequencyAt(best);
      load = bestLoad;
    } else {
      frequency = exactPeak(solver, best, bestLoad);
      load = refined[0];
      if (!solver.linear && load > 0) load = switchingLoad(solver, load);
    }
  }
  if (load > pickup.regulator.currentLimit) {
    load = pickup.regulator.currentLimit;
    limit = REGULATOR;
  }
  found[CURRENT] = Math.max(load, 0);
  found[LIMIT] = limit;
  found[FREQUENCY] = frequency;
}

/** Limit broken at the edge of one swept node, `LINK` where none is. */
function brokenAt(solver: BatchLink, node: number): number {
  const { drive } = solver.boards;
  if (solver.edgePeaks[node] > Math.SQRT2 * drive.coilCurrentLimit) return COIL;
  if (solver.edgeSupply[node] > drive.supplyCurrentLimit) return SUPPLY;
  return LINK;
}

/**
 * Frequency between a good and a broken node where the limit is met, with exact waveform; the load there in `refined[0]`.
 * Illinois steps on the relative excess over the limit.
 */
function limitBetween(solver: BatchLink, good: number, broken: number, guess: number): number {
  const { drive } = solver.boards;
  let inside = good;
  let outside = broken;
  let load = exactAt(solver, good, guess);
  let start = guess;
  let atInside = -1;
  let atOutside = 1;
  let known = false;
  let side = 0;
  for (let k = 0; k < 14; k++) {
    const share = known ? atInside / (atInside - atOutside) : 0.5;
    const f = inside + Math.min(0.95, Math.max(0.05, share)) * (outside - inside);
    solver.aim(f);
    const edge = solver.exactEdgeLoad(start);
    let over = -1;
    if (edge > 0) {
      start = edge;
      const coil = solver.result[TRANSMITTER_PEAK] / (Math.SQRT2 * drive.coilCurrentLimit) - 1;
      const supply = solver.result[OVERLOADED] > 0 ? 1 : solver.supplyCurrent(f) / drive.supplyCurrentLimit - 1;
      over = Math.max(coil, supply);
      known = true;
    } else known = false;
    if (over <= 0) {
      inside = f;
      if (edge > 0) load = edge;
      if (over > -2e-4) break;
      atInside = over;
      if (side === 1) atOutside /= 2;
      side = 1;
    } else {
      outside = f;
      atOutside = over;
      if (side === -1) atInside /= 2;
      side = -1;
    }
  }
  refined[0] = load;
  return inside;
}

/**
 * Frequency of the largest edge load around a node: the swept nodes' parabola, then one through three exact values beside it, since the
 * capacitor's phase moves the peak a little. The exact load in `refined[0]`.
 */
function exactPeak(solver: BatchLink, best: number, guess: number): number {
  const { nodes, edges } = solver;
  const last = nodes - 1;
  const node = solver.frequencyAt(best);
  if (nodes === 1) {
    refined[0] = exactAt(solver, node, guess);
    return node;
  }
  const top = solver.frequencyAt(0);
  const bottom = solver.frequencyAt(last);
  let middle = node;
  if (best > 0 && best < last) {
    const above = edges[best - 1];
    const below = edges[best + 1];
    const bend = above - 2 * edges[best] + below;
    const shift = bend < 0 && above > 0 && below > 0 ? (0.5 * (above - below)) / bend : 0;
    middle = node * (bottom / top) ** (shift / last);
  }
  const spread = 0.02 * middle;
  let f = Math.min(top, Math.max(bottom, middle));
  let load = exactAt(solver, f, guess);
  const high = Math.min(top, f + spread);
  const low = Math.max(bottom, f - spread);
  const atHigh = high > f ? exactAt(solver, high, load) : 0;
  const atLow = low < f ? exactAt(solver, low, load) : 0;
  const next = vertex(low, atLow, f, load, high, atHigh, top, bottom);
  const atNext = next !== f ? exactAt(solver, next, load) : 0;
  if (atHigh > load) {
    load = atHigh;
    f = high;
  }
  if (atLow > load) {
    load = atLow;
    f = low;
  }
  if (atNext > load) {
    load = atNext;
    f = next;
  }
  refined[0] = load;
  return f;
}

function exactAt(solver: BatchLink, frequency: number, guess: number): number {
  solver.aim(frequency);
  const load = solver.exactEdgeLoad(guess);
  return Math.max(load, 0);
}

/** Abscissa of the parabola's peak, kept within one spread beyond the samples and within the window. */
function vertex(
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  top: number,
  bottom: number,
): number {
  const spread = x2 - x0;
  if (!(x1 > x0 && x2 > x1)) {
    // At an end of the window there is one neighbour only: stay at the end, or go on past a better neighbour.
    if (x1 > x0) return y0 > y1 ? Math.max(bottom, x0 - spread) : x1;
    return y2 > y1 ? Math.min(top, x2 + spread) : x1;
  }
  const s0 = (y1 - y0) / (x1 - x0);
  const curvature = ((y2 - y1) / (x2 - x1) - s0) / spread;
  let x = curvature < 0 ? (x0 + x1) / 2 - s0 / (2 * curvature) : y2 > y0 ? x2 + spread : x0 - spread;
  x = Math.min(x2 + spread, Math.max(x0 - spread, x));
  return Math.min(top, Math.max(bottom, x));
}

/** A constant-power load may be larger at a higher voltage, up to the target: largest of five voltages. */
function switchingLoad(solver: BatchLink, atNeeded: number): number {
  let best = atNeeded;
  const low = solver.neededBase + solver.neededSlope * atNeeded;
  const high = solver.target(atNeeded);
  for (let s = 1; s <= 4; s++) {
    const volts = low + (s / 4) * (high - low);
    let load = best;
    for (let k = 0; k < 20; k++) {
      const h = 1e-6 * (load + 1e-2);
      const beyond = solver.excess(load + h, volts);
      const at = solver.excess(load, volts);
      const move = (-at * h) / (beyond - at);
      load = Math.max(0, load + move);
      if (!(Math.abs(move) > 1e-9)) break;
    }
    if (load > best) best = load;
  }
  return best;
}

/** Warms the copper to the temperatures at the limit found: fixed point with the losses there. */
function warmTo(solver: BatchLink, found: Float64Array, ambient: number): void {
  const { drive, pickup, thermal } = solver.boards;
  const load = found[CURRENT];
  if (!(load > 0)) return;
  const effective = effectiveResistance(solver);
  const rectifiedV = Math.max(solver.neededBase + solver.neededSlope * load, 0);
  let receiverC = ambient;
  let transmitterC = ambient;
  for (let k = 0; k < 5; k++) {
    solver.warm(transmitterC, receiverC);
    solver.aim(found[FREQUENCY]);
    solver.excess(load, rectifiedV);
    const lossA = solver.receiverLoss(rectifiedV, solver.demand(load, rectifiedV), pickup.regulator.outputV * load);
    receiverC = Math.min(HOTTEST_COPPER_C, ambient + effective * lossA);
    const peak = solver.result[TRANSMITTER_PEAK];
    const lossB =
      0.5 * peak * peak * solver.setting[R1] +
      (drive.idleCurrent + drive.gateCharge * found[FREQUENCY]) * solver.result[1] +
      solver.setting[7] * peak;
    transmitterC = Math.min(HOTTEST_COPPER_C, ambient + thermal.transmitterResistance * lossB);
  }
  found[RECEIVER_C] = receiverC;
  solver.warm(transmitterC, receiverC);
}

function effectiveResistance(solver: BatchLink): number {
  const { receiverResistance, receiverToCell, cellToAmbient } = solver.boards.thermal;
  const throughCell = receiverToCell + cellToAmbient;
  return (receiverResistance * throughCell) / (receiverResistance + throughCell);
}

/** Code of the limit that a load breaks on its own (heat, overvoltage), or `LINK` where it is fine. */
function verdictAt(
  solver: BatchLink,
  load: number,
  charging: boolean,
  thermal: boolean,
  ambient: number,
  frequency: number,
): number {
  const { pickup, thermal: paths, drive } = solver.boards;
  const { regulator } = pickup;
  let volts = solver.target(load);
  // Overfed: least drive at the top of the window gives more than the target.
  solver.aim(drive.frequencyMax, solver.levelVolt);
  if (solver.excess(load, volts) < 0) {
    volts = overfedVoltage(solver, load, volts);
    if (volts > regulator.overvoltage) return OVERVOLTAGE;
  } else {
    solver.aim(frequency);
    solver.excess(load, volts);
  }
  if (!thermal) return LINK;
  const loss = solver.receiverLoss(volts, solver.demand(load, volts), regulator.outputV * load);
  const rise = effectiveResistance(solver) * loss;
  if (ambient + rise > paths.shutdown) return SHUTDOWN;
  const throughCell = paths.receiverToCell + paths.cellToAmbient;
  if (charging && ambient + (rise * paths.cellToAmbient) / throughCell > paths.cellChargeMax) return CELL;
  if (ambient + CASE_SHARE * rise > paths.touchMax) return TOUCH;
  return LINK;
}

/** Rectified voltage that least drive at the top of the window gives; Newton from the target upwards. */
function overfedVoltage(solver: BatchLink, load: number, target: number): number {
  let volts = target;
  for (let k = 0; k < 30; k++) {
    const h = 1e-5 * (1 + volts);
    const beyond = solver.excess(load, volts + h);
    const at = solver.excess(load, volts);
    const move = Math.min((-at * h) / (beyond - at), 0.5 * volts);
    if (!(move > -volts)) break;
    volts += move;
    if (Math.abs(move) < 1e-7 * volts) break;
  }
  solver.excess(load, volts);
  return volts;
}

function bound(solver: BatchLink, found: Float64Array, charging: boolean, ambient: number): void {
  limitBelow(solver, found, charging, true, ambient);
}

function boundVoltage(solver: BatchLink, found: Float64Array): void {
  limitBelow(solver, found, false, false, 0);
}

/** Samples the loads from none to the limit found; ends at the first that heat or overvoltage forbids. */
function limitBelow(
  solver: BatchLink,
  found: Float64Array,
  charging: boolean,
  thermal: boolean,
  ambient: number,
): void {
  const most = found[CURRENT];
  if (!(most > 0)) return;
  let good = 0;
  for (let k = 0; k <= HEAT_SAMPLES; k++) {
    const load = (most * k) / HEAT_SAMPLES;
    const code = verdictAt(solver, load, charging, thermal, ambient, found[FREQUENCY]);
    if (code === LINK) {
      good = load;
      continue;
    }
    let bad = load;
    let limit = code;
    if (k > 0) {
      for (let b = 0; b < 18; b++) {
        const middle = (good + bad) / 2;
        const at = verdictAt(solver, middle, charging, thermal, ambient, found[FREQUENCY]);
        if (at === LINK) good = middle;
        else {
          bad = middle;
          limit = at;
        }
      }
    } else good = 0;
    found[CURRENT] = good;
    found[LIMIT] = limit;
    return;
  }
}
