/** Writes the point of a convex body farthest along a direction. */
export type Support = (dx: number, dy: number, dz: number, out: Float64Array) => void;

/**
 * Distance of two convex bodies given by their support functions; 0 where they touch or overlap.
 *
 * @param tolerance absolute, same unit as the bodies; also the distance taken as touching
 * Accuracy: the answer is too large by at most the tolerance.
 * Method: Gilbert-Johnson-Keerthi; the nearest point of each simplex by checking all its faces (Ericson, Real-Time
 * Collision Detection, 2005, section 9.5, from memory).
 */
export function convexDistance(a: Support, b: Support, tolerance: number): number {
  const forward = new Float64Array(3);
  const backward = new Float64Array(3);
  const simplex: number[][] = [];
  let v = [1, 0, 0];
  const minkowski = (dx: number, dy: number, dz: number): number[] => {
    a(dx, dy, dz, forward);
    b(-dx, -dy, -dz, backward);
    return [forward[0]! - backward[0]!, forward[1]! - backward[1]!, forward[2]! - backward[2]!];
  };
  v = minkowski(1, 0, 0);
  simplex.push(v);
  for (let iteration = 0; iteration < 200; iteration++) {
    const norm = Math.hypot(v[0]!, v[1]!, v[2]!);
    if (norm <= tolerance) return 0;
    const w = minkowski(-v[0]!, -v[1]!, -v[2]!);
    // The plane through w square to v bounds the distance from below.
    const bound = (v[0]! * w[0]! + v[1]! * w[1]! + v[2]! * w[2]!) / norm;
    if (norm - bound <= tolerance) return norm;
    if (simplex.some((s) => s[0] === w[0] && s[1] === w[1] && s[2] === w[2])) return norm;
    simplex.push(w);
    const nearest = nearestToOrigin(simplex);
    if (nearest.inside) return 0;
    simplex.length = 0;
    simplex.push(...nearest.points);
    v = nearest.at;
  }
  return Math.hypot(v[0]!, v[1]!, v[2]!);
}

interface Nearest {
  readonly at: number[];
  readonly points: number[][];
  readonly inside: boolean;
}

/** Point of a simplex of up to four points nearest to the origin, with the least points it needs. */
function nearestToOrigin(points: readonly number[][]): Nearest {
  let best: Nearest | null = null;
  let bestNorm = Infinity;
  for (let mask = 1; mask < 1 << points.length; mask++) {
    const chosen = points.filter((_, i) => mask & (1 << i));
    const weights = affineNearest(chosen);
    if (!weights || weights.some((w) => w < (chosen.length === 1 ? 0 : -1e-14))) continue;
    if (chosen.length === 4) return { at: [0, 0, 0], points: chosen, inside: true };
    const at = [0, 1, 2].map((k) => chosen.reduce((sum, p, i) => sum + weights[i]! * p[k]!, 0));
    const norm = Math.hypot(at[0]!, at[1]!, at[2]!);
    if (norm < bestNorm * (1 - 1e-14)) {
      bestNorm = norm;
      best = { at, points: chosen, inside: false };
    }
  }
  return best ?? { at: points[0]!.slice(), points: [points[0]!], inside: false };
}

/** Affine weights of the point of the hull's plane nearest to the origin; null where the points are degenerate. */
function affineNearest(points: readonly number[][]): number[] | null {
  if (points.length === 1) return [1];
  const origin = points[0]!;
  const edges = points.slice(1).map((p) => [p[0]! - origin[0]!, p[1]! - origin[1]!, p[2]! - origin[2]!]);
  const n = edges.length;
  const dot = (p: readonly number[], q: readonly number[]) => p[0]! * q[0]! + p[1]! * q[1]! + p[2]! * q[2]!;
  const rows = edges.map((e) => [...edges.map((f) => dot(e, f)), -dot(e, origin)]);
  const scale = Math.max(...rows.map((r, i) => r[i]!));
  for (let i = 0; i < n; i++) {
    let pivot = i;
    for (let k = i + 1; k < n; k++) if (Math.abs(rows[k]![i]!) > Math.abs(rows[pivot]![i]!)) pivot = k;
    [rows[i], rows[pivot]] = [rows[pivot]!, rows[i]!];
    if (Math.abs(rows[i]![i]!) < 1e-13 * scale) return null;
    for (let k = 0; k < n; k++) {
      if (k === i) continue;
      const f = rows[k]![i]! / rows[i]![i]!;
      for (let m = i; m <= n; m++) rows[k]![m] = rows[k]![m]! - f * rows[i]![m]!;
    }
  }
  const weights = rows.map((r, i) => r[n]! / r[i]!);
  return [1 - weights.reduce((s, w) => s + w, 0), ...weights];
}
