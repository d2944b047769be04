/** Contour rings of a gridded field, with the region above the level closed at the grid's edge. */

/** Values on a rectangular grid, row-major [yIndex * x.length + xIndex]; axes ascending, at least two points each. */
export interface GridField {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly values: Float64Array;
}

/** A closed ring, flat x y, not repeating the first point; counter-clockwise around the region, clockwise around a hole. */
export type Ring = Float64Array;

/**
 * Rings around the region where `values >= level`, by marching squares with linear crossings.
 * @param field grid; NaN and -Infinity count as far below. @param level threshold.
 * @returns outer rings (positive area) each followed by its holes (negative area), largest first.
 *
 * Each crossing lies on a grid line, exact for a field that is linear along it; `refineField` first makes that good. Saddle
 * cells are joined according to their mean. A region that reaches the edge of the grid is closed along the edge.
 */
export function contourRings(field: GridField, level: number): Ring[] {
  const { x, y } = field;
  const nx = x.length + 2;
  const ny = y.length + 2;
  // One more point all round, in the same place as the edge and far below: rings close on the edge itself.
  const at = (i: number, j: number): number => {
    if (i === 0 || j === 0 || i === nx - 1 || j === ny - 1) return -BELOW;
    const v = field.values[(j - 1) * x.length + i - 1] - level;
    return Number.isNaN(v) ? -BELOW : v === 0 ? 0 : Math.max(-BELOW, Math.min(BELOW, v));
  };
  const px = (i: number) => x[Math.max(0, Math.min(x.length - 1, i - 1))];
  const py = (j: number) => y[Math.max(0, Math.min(y.length - 1, j - 1))];
  // Edge ids: even = from (i, j) to (i + 1, j), odd = from (i, j) to (i, j + 1).
  const next = new Int32Array(2 * nx * ny).fill(-1);
  for (let j = 0; j + 1 < ny; j += 1) {
    let a = at(0, j);
    let d = at(0, j + 1);
    for (let i = 0; i + 1 < nx; i += 1) {
      const b = at(i + 1, j);
      const c = at(i + 1, j + 1);
      const code = (a >= 0 ? 1 : 0) | (b >= 0 ? 2 : 0) | (c >= 0 ? 4 : 0) | (d >= 0 ? 8 : 0);
      if (code !== 0 && code !== 15) {
        const south = 2 * (j * nx + i);
        const west = south + 1;
        const north = 2 * ((j + 1) * nx + i);
        const east = 2 * (j * nx + i + 1) + 1;
        const sides = [south, east, north, west];
        const pieces = (a + b + c + d >= 0 ? JOINED[code] : undefined) ?? PIECES[code];
        for (let k = 0; k < pieces.length; k += 2) next[sides[pieces[k]]] = sides[pieces[k + 1]];
      }
      a = b;
      d = c;
    }
  }
  const rings: Ring[] = [];
  for (let start = 0; start < next.length; start += 1) {
    if (next[start] < 0) continue;
    const points: number[] = [];
    let edge = start;
    while (next[edge] >= 0) {
      const cell = edge >> 1;
      const i = cell % nx;
      const j = (cell - i) / nx;
      const i2 = edge & 1 ? i : i + 1;
      const j2 = edge & 1 ? j + 1 : j;
      const u = at(i, j);
      const v = at(i2, j2);
      const share = u === v ? 0 : u / (u - v);
      const cx = px(i) + share * (px(i2) - px(i));
      const cy = py(j) + share * (py(j2) - py(j));
      const n = points.length;
      if (n < 2 || points[n - 2] !== cx || points[n - 1] !== cy) points.push(cx, cy);
      const follow = next[edge];
      next[edge] = -1;
      edge = follow;
    }
    const n = points.length;
    if (n > 2 && points[0] === points[n - 2] && points[1] === points[n - 1]) points.length = n - 2;
    if (points.length >= 6) rings.push(Float64Array.from(points));
  }
  return sortRings(rings.filter((ring) => ringArea(ring) !== 0));
}

/** Stands for minus infinity; products with grid distances stay finite. */
const BELOW = 1e9;

/** Directed pieces of a cell, inside to the left, as pairs of sides: 0 south, 1 east, 2 north, 3 west. Index: corner bits. */
const PIECES: readonly (readonly number[])[] = [
  [],
  [0, 3],
  [1, 0],
  [1, 3],
  [2, 1],
  [0, 3, 2, 1],
  [2, 0],
  [2, 3],
  [3, 2],
  [0, 2],
  [1, 0, 3, 2],
  [1, 2],
  [3, 1],
  [0, 1],
  [3, 0],
  [],
];
/** The two saddle cells when their middle is inside. */
const JOINED: Readonly<Record<number, readonly number[]>> = { 5: [0, 1, 2, 3], 10: [1, 2, 3, 0] };

/** Signed area of a ring, positive counter-clockwise. */
export function ringArea(ring: Ring): number {
  let twice = 0;
  const n = ring.length;
  for (let k = 0; k < n; k += 2) {
    const m = (k + 2) % n;
    twice += ring[k] * ring[m + 1] - ring[m] * ring[k + 1];
  }
  return twice / 2;
}

/** Outer rings by falling area, each followed by the holes that lie in it. */
function sortRings(rings: Ring[]): Ring[] {
  const outer = rings.filter((ring) => ringArea(ring) > 0).sort((a, b) => ringArea(b) - ringArea(a));
  const holes = rings.filter((ring) => ringArea(ring) < 0);
  const groups = outer.map((ring) => [ring]);
  for (const hole of holes) {
    // The smallest outer ring around it owns the hole.
    let owner = -1;
    for (let k = 0; k < outer.length; k += 1) if (insideRing(outer[k], hole[0], hole[1])) owner = k;
    (groups[owner] ?? groups[0])?.push(hole);
  }
  return groups.flat();
}

/** Even-odd test of a point against one ring; points on the ring may go either way. */
export function insideRing(ring: Ring, px: number, py: number): boolean {
  let inside = false;
  const n = ring.length;
  for (let k = 0, m = n - 2; k < n; m = k, k += 2) {
    const yk = ring[k + 1];
    const ym = ring[m + 1];
    if (yk > py !== ym > py && px < ((ring[m] - ring[k]) * (py - yk)) / (ym - yk) + ring[k]) inside = !inside;
  }
  return inside;
}

/** Even-odd test against a set of rings: inside the region and in none of its holes. */
export function insideRings(rings: readonly Ring[], px: number, py: number): boolean {
  let inside = false;
  for (const ring of rings) if (insideRing(ring, px, py)) inside = !inside;
  return inside;
}

/** The grid with `factor` - 1 points between neighbours: cubic through four points (at the edges one-sided), or linear. */
export function refineField(field: GridField, factor: number, linear = false): GridField {
  if (factor <= 1) return field;
  const x = refineAxis(field.x, factor);
  const y = refineAxis(field.y, factor);
  const rows = field.y.length;
  const wide = new Float64Array(x.length * rows);
  for (let j = 0; j < rows; j += 1)
    refineLine(field.values, j * field.x.length, 1, field.x, factor, wide, j * x.length, 1, linear);
  const values = new Float64Array(x.length * y.length);
  for (let i = 0; i < x.length; i += 1) refineLine(wide, i, x.length, field.y, factor, values, i, x.length, linear);
  return { x, y, values };
}

function refineAxis(axis: Float64Array, factor: number): Float64Array {
  const out = new Float64Array((axis.length - 1) * factor + 1);
  for (let k = 0; k < out.length; k += 1) {
    const i = Math.min(axis.length - 2, Math.floor(k / factor));
    const t = (k - i * factor) / factor;
    out[k] = t === 0 ? axis[i] : t === 1 ? axis[i + 1] : axis[i] + t * (axis[i + 1] - axis[i]);
  }
  return out;
}

/** Lagrange interpolation along one line of a grid. Where a neighbour is not finite or a cliff, linear. */
function refineLine(
  from: Float64Array,
  offset: number,
  stride: number,
  axis: Float64Array,
  factor: number,
  to: Float64Array,
  toOffset: number,
  toStride: number,
  linear: boolean,
): void {
  const n = axis.length;
  const last = (n - 1) * factor;
  for (let k = 0; k <= last; k += 1) {
    const i = Math.min(n - 2, Math.floor(k / factor));
    const step = k - i * factor;
    const p1 = from[offset + i * stride];
    const p2 = from[offset + (i + 1) * stride];
    let value: number;
    if (step === 0) value = p1;
    else if (step === factor) value = p2;
    else {
      const x = axis[i] + (step / factor) * (axis[i + 1] - axis[i]);
      const first = Math.max(0, Math.min(n - 4, i - 1));
      const straight = p1 + (step / factor) * (p2 - p1);
      value = linear || n < 4 ? straight : cubicAt(from, offset, stride, axis, first, x, straight);
    }
    to[toOffset + k * toStride] = value;
  }
}

/** Cubic through four neighbouring points; the straight value where one of them is not finite or the cubic overshoots. */
function cubicAt(
  from: Float64Array,
  offset: number,
  stride: number,
  axis: Float64Array,
  first: number,
  x: number,
  straight: number,
): number {
  let sum = 0;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let a = first; a < first + 4; a += 1) {
    const v = from[offset + a * stride];
    let weight = 1;
    for (let b = first; b < first + 4; b += 1) if (b !== a) weight *= (x - axis[b]) / (axis[a] - axis[b]);
    sum += weight * v;
    low = Math.min(low, v);
    high = Math.max(high, v);
  }
  if (!Number.isFinite(sum)) return straight;
  // A jump (the link falls asleep) makes a cubic ring; keep it within the values around.
  return Math.max(low, Math.min(high, sum));
}
