import type { BatchLink } from './batch-link.ts';
import { OVERLOADED, TRANSMITTER_PEAK } from './first-harmonic-kernel.ts';

/** Load at the frequency last refined by one of these functions, A: exact waveform, supply's sag included. */
export const refined = new Float64Array(1);

/**
 * Frequency between a good and a broken node where the limit is met, with exact waveform; the load there in `refined[0]`.
 * Illinois steps on the relative excess over the limit.
 */
export function limitBetween(solver: BatchLink, good: number, broken: number, guess: number): number {
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
export function exactPeak(solver: BatchLink, best: number, guess: number): number {
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
