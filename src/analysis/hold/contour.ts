/** Contour rings of a gridded field, with the region above the level closed at the grid's edge. */

/** Values on a rectangular grid, row-major [yIndex * x.length + xIndex]; axes ascending, at least two points each. */
export interface GridField {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly values: Float64Array;
}

/** A closed ring, flat x y, not repeating the first point; counter-clockwise around the region, clockwise around a hole. */
export type Ring = Float64Array;

/** Rings around the region where `values >= level`; see `regionRings`. */
export function contourRings(field: GridField, level: number): Ring[] {
  return regionRings([field], level);
}

/**
 * Rings around the region where every field is at least `level`, by marching squares.
 * @param fields on one and the same grid; NaN and -Infinity count as far below. @param level threshold.
 * @returns outer rings (positive area) each followed by its holes (negative area), largest first.
 *
 * Where the region ends between two grid points is the first place at which one of the fields, each taken as linear, falls below
 * the level: fields of different scale do not disturb each other. `refineField` first makes linear good. Saddle cells are joined
 * where every field's mean is above. A region that reaches the edge of the grid is closed along the edge.
 */
export function regionRings(fields: readonly GridField[], level: number): Ring[] {
  const grid = fields[0];
  if (!grid) return [];
  const { x, y } = grid;
  // One more point all round, in the same place as the edge and outside: rings close on the edge itself.
  const nx = x.length + 2;
  const ny = y.length + 2;
  const inside = new Uint8Array(nx * ny);
  for (let j = 0; j < y.length; j += 1) inside.fill(1, (j + 1) * nx + 1, (j + 2) * nx - 1);
  for (const { values } of fields)
    for (let j = 0; j < y.length; j += 1)
      for (let i = 0; i < x.length; i += 1) if (!(values[j * x.length + i] >= level)) inside[(j + 1) * nx + i + 1] = 0;
  const isPad = (k: number) => {
    const i = k % nx;
    return i === 0 || i === nx - 1 || k < nx || k >= nx * (ny - 1);
  };
  const plain = (k: number) => (Math.floor(k / nx) - 1) * x.length + (k % nx) - 1;
  /** Share of the way from point a to point b at which the region ends. */
  const crossing = (a: number, b: number): number => {
    if (isPad(a) || isPad(b)) return 0;
    const from = plain(inside[a] ? a : b);
    const to = plain(inside[a] ? b : a);
    let first = 1;
    for (const { values } of fields) {
      const u = values[from] - level;
      const v = values[to] - level;
      if (v >= 0) continue;
      first = Math.min(first, v > -FAR_BELOW && u < FAR_BELOW ? u / (u - v) : 0);
    }
    return inside[a] ? first : 1 - first;
  };
  const joined = (k: number): boolean =>
    [k, k + 1, k + nx, k + nx + 1].every((p) => !isPad(p)) &&
    fields.every(({ values }) => {
      const p = plain(k);
      return values[p] + values[p + 1] + values[p + x.length] + values[p + x.length + 1] >= 4 * level;
    });
  // Edge ids: even = from (i, j) to (i + 1, j), odd = from (i, j) to (i, j + 1).
  const next = new Int32Array(2 * nx * ny).fill(-1);
  const starts: number[] = [];
  const sides = [0, 0, 0, 0];
  for (let j = 0; j + 1 < ny; j += 1) {
    let left = inside[j * nx] | (inside[(j + 1) * nx] << 3);
    for (let i = 0; i + 1 < nx; i += 1) {
      const k = j * nx + i;
      const code = left | (inside[k + 1] << 1) | (inside[k + nx + 1] << 2);
      left = ((code >> 1) & 1) | ((code & 4) << 1);
      if (code === 0 || code === 15) continue;
      sides[0] = 2 * k;
      sides[1] = 2 * k + 3;
      sides[2] = 2 * (k + nx);
      sides[3] = 2 * k + 1;
      const pieces = (JOINED[code] && joined(k) ? JOINED[code] : undefined) ?? PIECES[code];
      for (let p = 0; p < pieces.length; p += 2) {
        next[sides[pieces[p]]] = sides[pieces[p + 1]];
        starts.push(sides[pieces[p]]);
      }
    }
  }
  const place = (axis: Float64Array, i: number) => axis[Math.max(0, Math.min(axis.length - 1, i - 1))];
  const rings: Ring[] = [];
  for (const start of starts) {
    if (next[start] < 0) continue;
    const points: number[] = [];
    let edge = start;
    while (next[edge] >= 0) {
      const a = edge >> 1;
      const b = edge & 1 ? a + nx : a + 1;
      const share = crossing(a, b);
      const ax = place(x, a % nx);
      const ay = place(y, Math.floor(a / nx));
      const cx = ax + share * (place(x, b % nx) - ax);
      const cy = ay + share * (place(y, Math.floor(b / nx)) - ay);
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

/** Beyond this a value only says on which side it is. */
const FAR_BELOW = 1e12;

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
  const alongX = refinement(field.x, factor, linear);
  const alongY = refinement(field.y, factor, linear);
  const nx = alongX.axis.length;
  const rows = field.y.length;
  const wide = new Float64Array(nx * rows);
  for (let j = 0; j < rows; j += 1) refineLine(alongX, field.values, j * field.x.length, 1, wide, j * nx, 1);
  const values = new Float64Array(nx * alongY.axis.length);
  for (let i = 0; i < nx; i += 1) refineLine(alongY, wide, i, nx, values, i, nx);
  return { x: alongX.axis, y: alongY.axis, values };
}

/** How each point of a refined axis is read off four neighbouring points of the coarse one. */
interface Refinement {
  readonly axis: Float64Array;
  /** First of the four points. */
  readonly first: Int32Array;
  /** Lagrange weights, [point, 4]. */
  readonly weights: Float64Array;
  /** Left point of the interval and share towards the right one, for a straight line. */
  readonly left: Int32Array;
  readonly share: Float64Array;
  readonly linear: boolean;
}

function refinement(axis: Float64Array, factor: number, linear: boolean): Refinement {
  const n = axis.length;
  const count = (n - 1) * factor + 1;
  const out = {
    axis: new Float64Array(count),
    first: new Int32Array(count),
    weights: new Float64Array(4 * count),
    left: new Int32Array(count),
    share: new Float64Array(count),
    linear: linear || n < 4,
  };
  for (let k = 0; k < count; k += 1) {
    const i = Math.min(n - 2, Math.floor(k / factor));
    const share = (k - i * factor) / factor;
    out.left[k] = i;
    out.share[k] = share;
    out.axis[k] = share === 0 ? axis[i] : share === 1 ? axis[i + 1] : axis[i] + share * (axis[i + 1] - axis[i]);
    if (out.linear) continue;
    const first = Math.max(0, Math.min(n - 4, i - 1));
    out.first[k] = first;
    for (let a = 0; a < 4; a += 1) {
      let weight = 1;
      for (let b = 0; b < 4; b += 1)
        if (b !== a) weight *= (out.axis[k] - axis[first + b]) / (axis[first + a] - axis[first + b]);
      out.weights[4 * k + a] = weight;
    }
  }
  return out;
}

/** Refines one line of a grid. Where a neighbour is not finite the line is straight; a cubic never leaves its neighbours. */
function refineLine(
  to: Refinement,
  from: Float64Array,
  offset: number,
  stride: number,
  out: Float64Array,
  outOffset: number,
  outStride: number,
): void {
  const { first, weights, left, share } = to;
  for (let k = 0; k < share.length; k += 1) {
    const at = offset + left[k] * stride;
    const t = share[k];
    let value: number;
    if (t === 0) value = from[at];
    else if (t === 1) value = from[at + stride];
    else if (to.linear) value = from[at] + t * (from[at + stride] - from[at]);
    else {
      const p = offset + first[k] * stride;
      const v0 = from[p];
      const v1 = from[p + stride];
      const v2 = from[p + 2 * stride];
      const v3 = from[p + 3 * stride];
      value = weights[4 * k] * v0 + weights[4 * k + 1] * v1 + weights[4 * k + 2] * v2 + weights[4 * k + 3] * v3;
      if (!Number.isFinite(value)) value = from[at] + t * (from[at + stride] - from[at]);
      else {
        // A jump (the link falls asleep) makes a cubic ring; keep it within the values around.
        const low = Math.min(v0, v1, v2, v3);
        const high = Math.max(v0, v1, v2, v3);
        if (value < low) value = low;
        else if (value > high) value = high;
      }
    }
    out[outOffset + k * outStride] = value;
  }
}
