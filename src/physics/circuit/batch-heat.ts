import type { BatchLink } from './batch-link.ts';
import { R1, R2, RECEIVER_PEAK, SLOPE, SUPPLIED_V, TRANSMITTER_PEAK } from './first-harmonic-kernel.ts';
import { CELL, LINK, OVERVOLTAGE, SHUTDOWN, STOPPED, TOUCH } from './limit-codes.ts';
import { CASE_SHARE } from './thermal.ts';

/** What `limitBelow` judges by. */
export interface HeatRules {
  readonly ignoreThermal: boolean;
  readonly charging: boolean;
  /** Load at which the interval must begin, A. */
  readonly fromA: number;
}

/** Loads below the limit at which heat and overvoltage are sampled. */
const SAMPLES = 6;
const HALVINGS = 18;
const HOTTEST_COPPER_C = 300;
const COPPER_STEPS = 8;
const COPPER_TOLERANCE = 0.3;
const VERDICT_STEPS = 4;
const VERDICT_TOLERANCE = 1;

/** Largest load and the code of what ended it, as left by `limitBelow`. */
export const bounded = { current: 0, limit: LINK };

/** What the last verdict saw: rectified voltage above the target; the receiver's loss, W; drive frequency, Hz. */
const seen = { overfed: false, loss: 0, frequency: 0 };

const HUMP_STEPS = 6;
/** How far the largest loss between samples may lie above the largest sampled one. */
const HUMP_MARGIN = 1.5;
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/**
 * Warms the solver's copper to the temperatures of a load at a frequency, rectified voltage just sufficient: fixed point with the losses.
 *
 * @returns by how much the warmer of both changed, K.
 */
export function warmTo(solver: BatchLink, load: number, frequency: number): number {
  if (!(load > 0)) return 0;
  const rectifiedV = solver.neededBase + solver.neededSlope * load;
  const before1 = solver.transmitterC;
  const before2 = solver.receiverC;
  for (let k = 0; k < COPPER_STEPS; k++) {
    solver.aim(frequency);
    solver.excess(load, rectifiedV);
    if (warmOnce(solver, load, rectifiedV, frequency) < COPPER_TOLERANCE) break;
  }
  return Math.max(Math.abs(solver.transmitterC - before1), Math.abs(solver.receiverC - before2));
}

/** Takes the copper to what the losses of the point in `result` give; by how much the warmer of both changed, K. */
function warmOnce(solver: BatchLink, load: number, rectifiedV: number, frequency: number): number {
  const { drive, pickup, thermal } = solver.boards;
  const { ambient } = thermal;
  const before1 = solver.transmitterC;
  const before2 = solver.receiverC;
  seen.loss = solver.receiverLoss(rectifiedV, solver.demand(load, rectifiedV), pickup.regulator.outputV * load);
  const peak = solver.result[TRANSMITTER_PEAK];
  const transmitterW =
    0.5 * peak * peak * solver.setting[R1] +
    (drive.idleCurrent + drive.gateCharge * frequency) * solver.result[SUPPLIED_V] +
    solver.deadTimeLoss(peak);
  const transmitterC = Math.min(HOTTEST_COPPER_C, ambient + thermal.transmitterResistance * transmitterW);
  const receiverC = Math.min(HOTTEST_COPPER_C, ambient + effectiveResistance(solver) * seen.loss);
  solver.warm(transmitterC, receiverC);
  return Math.max(Math.abs(transmitterC - before1), Math.abs(receiverC - before2));
}

function effectiveResistance(solver: BatchLink): number {
  const { receiverResistance, receiverToCell, cellToAmbient } = solver.boards.thermal;
  const throughCell = receiverToCell + cellToAmbient;
  return (receiverResistance * throughCell) / (receiverResistance + throughCell);
}

/** Code of the limit that a load breaks on its own (heat, overvoltage, protocol), or `LINK` where it is fine. */
function verdictAt(solver: BatchLink, load: number, frequency: number, rules: HeatRules): number {
  const { drive, pickup, thermal } = solver.boards;
  const { regulator, stop } = pickup;
  let volts = 0;
  for (let k = 0; k < VERDICT_STEPS; k++) {
    volts = voltageAt(solver, load, frequency);
    if (warmOnce(solver, load, volts, seen.frequency) < VERDICT_TOLERANCE) break;
  }
  if (seen.overfed) {
    if (volts > regulator.overvoltage) return OVERVOLTAGE;
    // There is no less drive to go to.
    const broken = solver.brokenLimit(seen.frequency);
    if (broken !== LINK) return broken;
  }
  const { loss } = seen;
  if (!seen.overfed && frequency === drive.frequencyMax) {
    // A limit met at the top of the window can be met at lighter loads too, whose target is higher; with less drive the voltage may
    // come down to what the regulator needs.
    if (solver.levelVolt < solver.fullVolt) solver.excess(load, solver.neededBase + solver.neededSlope * load);
    const broken = solver.brokenLimit(frequency);
    if (broken !== LINK) return broken;
  }
  if (stop !== null) {
    const peak = solver.result[RECEIVER_PEAK];
    const unaccounted = 0.5 * peak * peak * solver.setting[R2] + solver.drop * solver.demand(load, volts);
    if (stop.minimumRectifiedV !== null && volts < stop.minimumRectifiedV) return STOPPED;
    if (stop.foreignObjectLossW !== null && unaccounted > stop.foreignObjectLossW) return STOPPED;
  }
  if (rules.ignoreThermal) return LINK;
  const { ambient } = thermal;
  const rise = effectiveResistance(solver) * loss;
  if (ambient + rise > thermal.shutdown) return SHUTDOWN;
  const throughCell = thermal.receiverToCell + thermal.cellToAmbient;
  if (rules.charging && ambient + (rise * thermal.cellToAmbient) / throughCell > thermal.cellChargeMax) return CELL;
  if (ambient + CASE_SHARE * rise > thermal.touchMax) return TOUCH;
  return LINK;
}

/** Rectified voltage under the control for a load below the limit found at `frequency`; says in `seen` where it rests. */
function voltageAt(solver: BatchLink, load: number, frequency: number): number {
  const { drive } = solver.boards;
  const target = solver.target(load);
  // Overfed: least drive at the top of the window gives more than the target.
  seen.frequency = drive.frequencyMax;
  solver.aim(drive.frequencyMax, solver.levelVolt);
  seen.overfed = solver.excess(load, target) < 0;
  if (seen.overfed) return openVoltage(solver, load, target);
  seen.frequency = frequency;
  solver.aim(frequency);
  // Near the limit the target is out of reach: the rectified voltage is what the link gives there.
  if (solver.excess(load, target) > 0) return openVoltage(solver, load, target);
  // A lighter load stands higher up the window, where the coils lose more.
  seen.frequency = restingFrequency(solver, load, frequency);
  solver.aim(seen.frequency);
  solver.excess(load, target);
  return target;
}

/** Frequency at which the walk of the last sweep comes to a load, between its nodes; not below the limit's own. */
function restingFrequency(solver: BatchLink, load: number, least: number): number {
  const { edges, nodes } = solver;
  for (let j = 0; j < nodes; j++) {
    if (!(edges[j] >= load)) continue;
    const at = solver.frequencyAt(j);
    if (j === 0) return at;
    const above = solver.frequencyAt(j - 1);
    const before = Math.max(0, edges[j - 1]);
    return Math.max(least, above + ((at - above) * (load - before)) / (edges[j] - before));
  }
  return least;
}

/** Rectified voltage at the present setting for a load, never below what the regulator needs; Newton from the target. */
function openVoltage(solver: BatchLink, load: number, target: number): number {
  const least = solver.neededBase + solver.neededSlope * load;
  let volts = target;
  for (let k = 0; k < 30; k++) {
    const at = solver.excessOverVoltage(load, volts);
    const slope = solver.result[SLOPE];
    // Under constant power the excess may fall with the voltage at first: the upper root lies beyond.
    const move = at < 0 && !(slope > 0) ? 0.3 * volts : Math.min(-at / slope, 0.5 * volts);
    if (!(move > -volts)) break;
    if (Math.abs(move) < 1e-6 * volts || (volts === least && move < 0)) return volts;
    volts = Math.max(least, volts + move);
  }
  solver.excess(load, volts);
  return volts;
}

/**
 * Samples the loads from the lightest to the most the link allows and ends at the first that heat, overvoltage or a protocol threshold
 * forbids; the answer is in `bounded`.
 *
 * @param most largest load of the link, A. @param limit code of what ends it there. @param frequency drive frequency there, Hz.
 */
export function limitBelow(solver: BatchLink, most: number, limit: number, frequency: number, rules: HeatRules): void {
  bounded.current = most;
  bounded.limit = limit;
  if (!(most > 0)) return;
  const start = Math.min(rules.fromA, most);
  const spacing = (most - start) / SAMPLES;
  let good = start;
  let bad = Number.NaN;
  let broken = LINK;
  let humpEnd = Number.NaN;
  let humpLoss = 0;
  for (let k = 0; k <= SAMPLES; k++) {
    const load = start + spacing * k;
    const code = verdictAt(solver, load, frequency, rules);
    if (code !== LINK) {
      if (k === 0) {
        bounded.current = 0;
        bounded.limit = code;
        return;
      }
      bad = load;
      broken = code;
      break;
    }
    if (seen.overfed) {
      humpEnd = Math.min(most, load + spacing);
      if (seen.loss > humpLoss) humpLoss = seen.loss;
    }
    good = load;
  }
  // An overfed receiver is hottest at a load inside: loss (V - output) I rises, then falls as the voltage comes down.
  if (!Number.isNaN(humpEnd) && !rules.ignoreThermal && HUMP_MARGIN * humpLoss > largestLoss(solver, rules)) {
    let a = start;
    let b = humpEnd;
    for (let k = 0; k < HUMP_STEPS; k++) {
      const c = b - GOLDEN * (b - a);
      const d = a + GOLDEN * (b - a);
      const atC = verdictAt(solver, c, frequency, rules);
      const lossC = seen.loss;
      if (atC !== LINK) {
        narrow(solver, a, c, atC, frequency, rules);
        return;
      }
      verdictAt(solver, d, frequency, rules);
      if (lossC >= seen.loss) b = d;
      else a = c;
    }
  }
  if (broken !== LINK) narrow(solver, good, bad, broken, frequency, rules);
}

/** Receiver loss at which the first temperature limit is reached, W. */
function largestLoss(solver: BatchLink, rules: HeatRules): number {
  const { thermal } = solver.boards;
  const effective = effectiveResistance(solver);
  let least =
    Math.min(thermal.shutdown - thermal.ambient, (thermal.touchMax - thermal.ambient) / CASE_SHARE) / effective;
  if (rules.charging) {
    const share = thermal.cellToAmbient / (thermal.receiverToCell + thermal.cellToAmbient);
    least = Math.min(least, (thermal.cellChargeMax - thermal.ambient) / (share * effective));
  }
  return least;
}

/** Halves between a carried load and one that is not; leaves the answer in `bounded`. */
function narrow(solver: BatchLink, from: number, to: number, code: number, frequency: number, rules: HeatRules): void {
  let good = from;
  let bad = to;
  bounded.limit = code;
  for (let b = 0; b < HALVINGS; b++) {
    const middle = (good + bad) / 2;
    const at = verdictAt(solver, middle, frequency, rules);
    if (at === LINK) good = middle;
    else {
      bad = middle;
      bounded.limit = at;
    }
  }
  bounded.current = good;
}
