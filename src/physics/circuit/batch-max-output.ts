import { bounded, type HeatRules, limitBelow, warmTo } from './batch-heat.ts';
import { BatchLink, type LinkBatch } from './batch-link.ts';
import { exactPeak, FREQUENCY, limitAtTop, limitBetween, refined } from './batch-refine.ts';
import { COIL, LINK, REGULATOR, SUPPLY } from './limit-codes.ts';
import type { Boards } from './types.ts';

export interface MaxOutputBatch {
  /** A, per pose. */
  readonly current: Float64Array;
  /** Index into `LIMIT_CODES`, per pose. */
  readonly limitedBy: Uint8Array;
  /** Drive frequency at the limit, Hz, per pose. */
  readonly frequency: Float64Array;
}

export type BatchMaxOptions = HeatRules;

export const BATCH_MAX_DEFAULTS: BatchMaxOptions = Object.freeze({ ignoreThermal: false, charging: false, fromA: 0 });

/** Results for `count` poses. */
export function maxOutputBatch(count: number): MaxOutputBatch {
  return {
    current: new Float64Array(count),
    limitedBy: new Uint8Array(count),
    frequency: new Float64Array(count),
  };
}

/**
 * Largest load per pose, first harmonic: what `maxOutput` with tier `fast` finds, for maps.
 *
 * @param batch poses. @param boards boards. @param out results, `maxOutputBatch(poses)`, filled and returned.
 * @param from first pose and @param to one past the last, for work in chunks.
 *
 * Accuracy: against `maxOutput` fast within 0.5 % and 1 mA for 98.6 % of random boards and links (6044 that deliver, seeds 11 to 14 of
 * tests/physics/circuit/boards, half of them with heat; by limit 95 to 100 %), within 2 % for 99.3 %; what is left are folds of
 * constant-power loads, light loads beside a resonance of the parallel capacitor, and humps narrower than a node. The model itself:
 * README. Correct maps at sampled poses with `correctionAt`. 7 to 9 us a pose (processor
 * time, machine fivefold loaded).
 */
export function batchMaxOutput(
  batch: LinkBatch,
  boards: Boards,
  out: MaxOutputBatch,
  options: Partial<BatchMaxOptions> = BATCH_MAX_DEFAULTS,
  from = 0,
  to = batch.m.length,
): MaxOutputBatch {
  const rules = { ...BATCH_MAX_DEFAULTS, ...options };
  const solver = new BatchLink(boards);
  const { ambient } = boards.thermal;
  for (let i = from; i < to; i++) {
    solver.load(batch, i, ambient, ambient);
    glance(solver);
    warmTo(solver, found.load, found.frequency);
    follow(solver);
    for (let k = 0; k < MOST_REPEATS; k++) {
      if (!(warmTo(solver, found.load, found.frequency) > HEAT_TOLERANCE)) break;
      follow(solver);
    }
    limitBelow(solver, found.load, found.limit, found.frequency, rules);
    out.current[i] = bounded.current;
    out.limitedBy[i] = bounded.limit;
    out.frequency[i] = found.frequency;
  }
  return out;
}

/** Humps of the edge load this near to the largest are refined as well. */
const HUMP_SHARE = 0.85;
/** Change of copper temperature, K, above which the walk is repeated, and how often. */
const HEAT_TOLERANCE = 1.5;
const MOST_REPEATS = 3;

/** Where the last walk ended. */
const found = { load: 0, limit: LINK, frequency: 0 };

/** Nodes whose load comes this near to the largest so far are solved exactly. */
const CANDIDATE_SHARE = 0.8;

/** The cold walk only finds the temperatures: every third node will do. */
const COLD_STRIDE = 3;

/** Cold: rough place of the limit, enough for the temperatures there. */
function glance(solver: BatchLink): void {
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
  found.load = Math.min(load, pickup.regulator.currentLimit);
  found.frequency = frequency;
}

/** Walks the window as the control does; see `maxOutput`. */
function follow(solver: BatchLink): void {
  const { drive, pickup } = solver.boards;
  const { nodes, edges } = solver;
  const asked = 1.1 * pickup.regulator.currentLimit;
  solver.sweep(1);
  let best = -1;
  let bestLoad = 0;
  let limit = LINK;
  let load = 0;
  let frequency = drive.frequencyMax;
  // By how much the closed form was off at the node before: that changes slowly over the window.
  let off = 0;
  for (let j = 0; j < nodes; j++) {
    const closed = edges[j];
    // Where the closed form sees none there can still be a light load.
    const guess = closed > 0 ? closed + off : j > 0 ? Math.max(0, edges[j - 1]) : 0;
    if (closed > 0 && guess < CANDIDATE_SHARE * bestLoad) continue;
    // A limit is judged on the exact waveform: the closed form's supply current is off by half and more.
    solver.settleNode(j, guess);
    off = closed > 0 && edges[j] > 0 ? edges[j] - closed : 0;
    if (!(edges[j] > bestLoad)) continue;
    limit = brokenAt(solver, j);
    if (limit !== LINK) {
      // Which limit stops the walk is settled between this node and the one before it.
      if (j === 0) limitAtTop(solver, edges[0]);
      else frequency = limitBetween(solver, FREQUENCY, solver.frequencyAt(j - 1), solver.frequencyAt(j), edges[j]);
      load = Math.max(bestLoad, refined[0]);
      break;
    }
    best = j;
    bestLoad = edges[j];
    // More than the regulator passes is never asked.
    if (bestLoad > asked) break;
  }
  if (limit === LINK && best >= 0) {
    if (bestLoad > asked) {
      frequency = solver.frequencyAt(best);
      load = bestLoad;
    } else {
      // The nodes may rank two humps wrongly: refine every one that comes near the largest.
      for (let j = 0; j < nodes; j++) {
        const edge = edges[j];
        if (edge < HUMP_SHARE * bestLoad || (j > 0 && edges[j - 1] > edge) || (j < nodes - 1 && edges[j + 1] > edge))
          continue;
        const f = exactPeak(solver, j, edge);
        if (refined[0] > load) {
          load = refined[0];
          frequency = f;
        }
      }
    }
  }
  if (load > pickup.regulator.currentLimit) {
    load = pickup.regulator.currentLimit;
    limit = REGULATOR;
  }
  found.load = Math.max(load, 0);
  found.limit = limit;
  found.frequency = frequency;
}

/** Limit broken at the edge of one swept node, `LINK` where none is. */
function brokenAt(solver: BatchLink, node: number): number {
  const { drive } = solver.boards;
  if (solver.edgePeaks[node] > Math.SQRT2 * drive.coilCurrentLimit) return COIL;
  if (solver.edgeSupply[node] > drive.supplyCurrentLimit) return SUPPLY;
  return LINK;
}
