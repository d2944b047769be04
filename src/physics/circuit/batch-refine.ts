import type { BatchLink } from './batch-link.ts';

/** Load at the frequency last refined by one of these functions, A: exact waveform, supply's sag included. */
export const refined = new Float64Array(1);

/** What moves while a limit is looked for: the frequency, the drive at the top of the window, or the voltage under the least drive. */
export const FREQUENCY = 0;
export const DRIVE = 1;
export const VOLTAGE = 2;

/**
 * Place between a good and a broken end where the limit is met, with exact waveform; the load there in `refined[0]`. Illinois steps on
 * the relative excess over the limit.
 *
 * @param mover `FREQUENCY`: places are frequencies, Hz. `DRIVE`: bridge amplitudes per volt at the top of the window. `VOLTAGE`: shares
 * of the way from the target (0) to what the regulator needs (1). @param guess load to start from, A.
 */
export function limitBetween(solver: BatchLink, mover: number, good: number, broken: number, guess: number): number {
  let inside = good;
  let outside = broken;
  let start = guess;
  let load = loadAt(solver, mover, good, guess);
  let atInside = load > 0 ? overLimit(solver, mover, good) : Number.NaN;
  const last = loadAt(solver, mover, broken, guess);
  let atOutside = last > 0 ? overLimit(solver, mover, broken) : Number.NaN;
  load = Math.max(load, 0);
  let side = 0;
  for (let k = 0; k < LIMIT_STEPS; k++) {
    const share = atInside / (atInside - atOutside);
    const x = inside + (share >= 0 && share <= 1 ? Math.min(0.98, Math.max(0.02, share)) : 0.5) * (outside - inside);
    const edge = loadAt(solver, mover, x, start);
    // Without a load nothing is broken, and nothing is known about how far the limit is.
    const over = edge > 0 ? overLimit(solver, mover, x) : Number.NaN;
    if (edge > 0) start = edge;
    if (over > 0) {
      outside = x;
      atOutside = over;
      if (side === -1) atInside /= 2;
      side = -1;
    } else {
      inside = x;
      if (edge > 0) load = edge;
      if (over > -LIMIT_TOLERANCE) break;
      atInside = over;
      if (side === 1) atOutside /= 2;
      side = 1;
    }
  }
  refined[0] = load;
  return inside;
}

/** Of loads while they are compared, relative. */
const LOAD_TOLERANCE = 1e-6;
const LIMIT_STEPS = 24;
const LIMIT_TOLERANCE = 2e-5;

function loadAt(solver: BatchLink, mover: number, x: number, guess: number): number {
  const top = solver.boards.drive.frequencyMax;
  if (mover === FREQUENCY) solver.aim(x);
  else solver.aim(top, mover === DRIVE ? x : solver.levelVolt);
  return mover === VOLTAGE ? solver.exactHeldLoad(x, guess) : solver.exactEdgeLoad(guess, LOAD_TOLERANCE);
}

function overLimit(solver: BatchLink, mover: number, x: number): number {
  return solver.overLimit(mover === FREQUENCY ? x : solver.boards.drive.frequencyMax);
}

/** What stops the walk where full drive at the top of the window already breaks a limit, as `maxOutput`; the load in `refined[0]`. */
export function limitAtTop(solver: BatchLink, guess: number): void {
  const top = solver.boards.drive.frequencyMax;
  if (solver.levelVolt < solver.fullVolt) {
    const least = loadAt(solver, DRIVE, solver.levelVolt, guess);
    if (!(least > 0 && solver.overLimit(top) > 0)) {
      limitBetween(solver, DRIVE, solver.levelVolt, solver.fullVolt, guess);
      return;
    }
  }
  const atTarget = loadAt(solver, VOLTAGE, 0, guess);
  if (atTarget > 0 && solver.overLimit(top) > 0) refined[0] = atTarget;
  else limitBetween(solver, VOLTAGE, 0, 1, guess);
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
  const load = solver.exactEdgeLoad(guess, LOAD_TOLERANCE);
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
