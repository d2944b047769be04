/** A field at a point, x y z into `out`; any unit: only its direction counts. */
export type VectorField = (x: number, y: number, z: number, out: Float64Array) => void;

export interface Bounds {
  /** Where a line ends: too far out, or inside something. */
  readonly outside: (x: number, y: number, z: number) => boolean;
  /** In the unit of the points. */
  readonly longestStep: number;
  readonly shortestStep: number;
  /** Spacing at which a step is looked at for leaving the bounds: less than the thinnest thing it must not jump over. */
  readonly lookEvery: number;
  /** Points of each half of a line. */
  readonly mostPoints: number;
}

/** Turn within one step above which it is made anew with half the length, and below which the next is longer. */
const SHARP = Math.cos((16 * Math.PI) / 180);
const GENTLE = Math.cos((7 * Math.PI) / 180);
type Point = readonly [number, number, number];

/**
 * Follows a field through a point, both ways, until it leaves the bounds or comes back to where it began.
 *
 * Method: classical Runge-Kutta of the fourth order over arc length; steps shrink where the line bends.
 *
 * @returns [n, 3] row-major x y z along the field, closed lines with their first point repeated; empty where the point
 * itself is outside
 */
export function traceLine(field: VectorField, start: Point, bounds: Bounds): Float64Array {
  if (bounds.outside(...start)) return new Float64Array();
  const forward = half(field, start, bounds, 1);
  if (forward.closed) return Float64Array.from([...start, ...forward.points, ...start]);
  const backward = half(field, start, bounds, -1);
  const reversed: number[] = [];
  for (let i = backward.points.length - 3; i >= 0; i -= 3) reversed.push(...backward.points.slice(i, i + 3));
  return Float64Array.from([...reversed, ...start, ...forward.points]);
}

const k1 = new Float64Array(3);
const k2 = new Float64Array(3);
const k3 = new Float64Array(3);
const k4 = new Float64Array(3);

/** Direction of the field, or false where it has none. */
function direction(field: VectorField, x: number, y: number, z: number, sign: number, out: Float64Array): boolean {
  field(x, y, z, out);
  const size = Math.hypot(out[0]!, out[1]!, out[2]!);
  if (!(size > 0) || !Number.isFinite(size)) return false;
  for (let i = 0; i < 3; i++) out[i] = (sign * out[i]!) / size;
  return true;
}

function half(
  field: VectorField,
  start: Point,
  bounds: Bounds,
  sign: 1 | -1,
): { readonly points: number[]; readonly closed: boolean } {
  const points: number[] = [];
  let [x, y, z] = start;
  let step = bounds.longestStep / 4;
  let travelled = 0;
  let arriving = false;
  const next = new Float64Array(3);
  const advance = (h: number): boolean => {
    if (!direction(field, x + (h / 2) * k1[0]!, y + (h / 2) * k1[1]!, z + (h / 2) * k1[2]!, sign, k2)) return false;
    if (!direction(field, x + (h / 2) * k2[0]!, y + (h / 2) * k2[1]!, z + (h / 2) * k2[2]!, sign, k3)) return false;
    if (!direction(field, x + h * k3[0]!, y + h * k3[1]!, z + h * k3[2]!, sign, k4)) return false;
    const from = [x, y, z] as const;
    for (let i = 0; i < 3; i++) next[i] = from[i]! + (h / 6) * (k1[i]! + 2 * k2[i]! + 2 * k3[i]! + k4[i]!);
    return true;
  };
  while (points.length < 3 * bounds.mostPoints) {
    if (!direction(field, x, y, z, sign, k1)) break;
    if (!advance(step)) break;
    const turn = k1[0]! * k4[0]! + k1[1]! * k4[1]! + k1[2]! * k4[2]!;
    if (turn < SHARP && step > bounds.shortestStep) {
      step = Math.max(bounds.shortestStep, step / 2);
      continue;
    }
    if (leaves([x, y, z], next, step, bounds)) {
      // Up to the border in ever shorter steps, so that the end lies on the line as well.
      if (step <= bounds.shortestStep) break;
      arriving = true;
      step = Math.max(bounds.shortestStep, step / 2);
      continue;
    }
    x = next[0]!;
    y = next[1]!;
    z = next[2]!;
    travelled += step;
    const away = Math.hypot(x - start[0], y - start[1], z - start[2]);
    if (travelled > 4 * bounds.longestStep && away < step) return { points, closed: true };
    points.push(x, y, z);
    if (turn > GENTLE && !arriving) step = Math.min(bounds.longestStep, step * 1.5);
  }
  return { points, closed: false };
}

/** Whether a step's chord leaves the bounds anywhere. */
function leaves(from: Point, to: Float64Array, step: number, { outside, lookEvery }: Bounds): boolean {
  const looks = Math.max(1, Math.ceil(step / lookEvery));
  for (let i = 1; i <= looks; i++) {
    const t = i / looks;
    if (outside(from[0] + t * (to[0]! - from[0]), from[1] + t * (to[1]! - from[1]), from[2] + t * (to[2]! - from[2])))
      return true;
  }
  return false;
}
