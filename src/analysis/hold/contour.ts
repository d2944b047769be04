/** Contour rings of a gridded field, with the region above the level closed at the grid's edge. */
import { insideRing, type Ring, ringArea } from './ring-geometry.ts';

/** Values on a rectangular grid, row-major [yIndex * x.length + xIndex]; axes ascending, at least two points each. */
export interface GridField {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly values: Float64Array;
}

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
