import { inverseMotion } from '../field/link-solver.ts';
import type { FlatBody } from '../field/solid-bodies.ts';

/** A side's bodies with where they are. */
export interface PlacedSide {
  readonly bodies: readonly FlatBody[];
  /** Carries the side's frame into the transmitter's; null: it is that frame. */
  readonly matrix: Float64Array | null;
}

/** The surface at a clear distance from coils and plates. */
export interface ClearSurface {
  /**
   * The point of side `side`'s own surface in a direction of its frame (polar angle and azimuth, rad), in the transmitter's frame.
   * @returns whether it is as far from the other side's parts, so that it belongs to the surface around both
   */
  point(side: 0 | 1, polar: number, azimuth: number, out: Float64Array): boolean;
  /** Clear distance of a point of the transmitter's frame from the nearest part, m; 0 inside one. */
  distance(x: number, y: number, z: number): number;
}

interface Hull {
  /** Convex polygon, counter-clockwise, x y flat. */
  readonly corners: Float64Array;
  readonly radius: number;
  readonly low: number;
  readonly high: number;
}

interface Side {
  readonly hulls: readonly Hull[];
  readonly matrix: Float64Array | null;
  readonly back: Float64Array | null;
  /** Half sizes and middle height of the side, m. */
  readonly halfX: number;
  readonly halfY: number;
  readonly halfZ: number;
  readonly middleZ: number;
}

/** Where a march towards the surface stops, as a share of the distance. */
const NEAR_ENOUGH = 1e-5;
const MOST_STEPS = 400;

/**
 * Surface of all points whose distance to the nearest coil or plate is `distance`, as two sides seen from their own middles. Coils
 * count with their holes. Points that only the other side's parts hide are told apart.
 *
 * Directions are stretched with the side's sizes, so that even angles cover a flat side evenly.
 * @param distance m, above 0
 * Accuracy: the distance is kept within 1e-5 of itself.
 * Method: marching inwards by what is left of the distance never passes the outermost crossing, since a distance changes by no
 * more than the way gone.
 */
export function clearSurface(sides: readonly [PlacedSide, PlacedSide], distance: number): ClearSurface {
  const two = sides.map(sideOf) as [Side, Side];
  const own = new Float64Array(3);
  return {
    point(side, polar, azimuth, out) {
      const s = two[side];
      const dx = Math.sin(polar) * Math.cos(azimuth) * (s.halfX + distance);
      const dy = Math.sin(polar) * Math.sin(azimuth) * (s.halfY + distance);
      const dz = Math.cos(polar) * (s.halfZ + distance);
      const length = Math.hypot(dx, dy, dz);
      let t = Math.hypot(s.halfX, s.halfY, s.halfZ) + 1.01 * distance;
      for (let k = 0; k < MOST_STEPS; k++) {
        own[0] = (t * dx) / length;
        own[1] = (t * dy) / length;
        own[2] = s.middleZ + (t * dz) / length;
        const left = distanceTo(s.hulls, own[0], own[1], own[2]) - distance;
        if (left < NEAR_ENOUGH * distance) break;
        t -= left;
      }
      toTransmitter(s, own, out);
      return distanceFrom(two[1 - side]!, out[0]!, out[1]!, out[2]!) >= distance * (1 - 2 * NEAR_ENOUGH);
    },
    distance: (x, y, z) => Math.min(distanceFrom(two[0], x, y, z), distanceFrom(two[1], x, y, z)),
  };
}

function sideOf({ bodies, matrix }: PlacedSide): Side {
  const hulls = bodies.map(({ points, radius, low, high }) => ({ corners: convexHull(points), radius, low, high }));
  const reach = (axis: 0 | 1) => Math.max(...bodies.map((body) => body.radius + largest(body.points, axis)));
  const low = Math.min(...bodies.map((body) => body.low));
  const high = Math.max(...bodies.map((body) => body.high));
  return {
    hulls,
    matrix,
    back: matrix === null ? null : inverseMotion(matrix),
    halfX: reach(0),
    halfY: reach(1),
    halfZ: (high - low) / 2,
    middleZ: (high + low) / 2,
  };
}

function largest(points: Float64Array, axis: 0 | 1): number {
  let most = 0;
  for (let i = axis; i < points.length; i += 2) most = Math.max(most, Math.abs(points[i]!));
  return most;
}

function toTransmitter({ matrix: m }: Side, p: Float64Array, out: Float64Array): void {
  if (m === null) {
    out.set(p);
    return;
  }
  for (let k = 0; k < 3; k++) out[k] = m[3 * k]! * p[0]! + m[3 * k + 1]! * p[1]! + m[3 * k + 2]! * p[2]! + m[9 + k]!;
}

function distanceFrom({ hulls, back: m }: Side, x: number, y: number, z: number): number {
  if (m === null) return distanceTo(hulls, x, y, z);
  return distanceTo(
    hulls,
    m[0]! * x + m[1]! * y + m[2]! * z + m[9]!,
    m[3]! * x + m[4]! * y + m[5]! * z + m[10]!,
    m[6]! * x + m[7]! * y + m[8]! * z + m[11]!,
  );
}

function distanceTo(hulls: readonly Hull[], x: number, y: number, z: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (const { corners, radius, low, high } of hulls) {
    const along = Math.max(0, low - z, z - high);
    if (along >= least) continue;
    const across = Math.max(0, planarDistance(corners, x, y) - radius);
    least = Math.min(least, Math.hypot(across, along));
  }
  return least;
}

/** Distance of a point from a convex polygon in the plane; 0 inside. A single point or a line counts as what it is. */
function planarDistance(corners: Float64Array, x: number, y: number): number {
  const n = corners.length;
  let inside = n > 4;
  let square = Number.POSITIVE_INFINITY;
  for (let i = 0; i < n; i += 2) {
    const ax = corners[i]!;
    const ay = corners[i + 1]!;
    const ex = corners[(i + 2) % n]! - ax;
    const ey = corners[(i + 3) % n]! - ay;
    const px = x - ax;
    const py = y - ay;
    if (ex * py - ey * px < 0) inside = false;
    const edge = ex * ex + ey * ey;
    const t = edge > 0 ? Math.min(1, Math.max(0, (px * ex + py * ey) / edge)) : 0;
    square = Math.min(square, (px - t * ex) ** 2 + (py - t * ey) ** 2);
  }
  return inside ? 0 : Math.sqrt(square);
}

/** Convex hull of points, counter-clockwise: monotone chain (A. M. Andrew, Inf. Process. Lett. 9 (1979) 216, from memory). */
function convexHull(points: Float64Array): Float64Array {
  const sorted: [number, number][] = [];
  for (let i = 0; i < points.length; i += 2) sorted.push([points[i]!, points[i + 1]!]);
  sorted.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (from: readonly [number, number][]): [number, number][] => {
    const chain: [number, number][] = [];
    for (const p of from) {
      while (chain.length > 1) {
        const a = chain[chain.length - 2]!;
        const b = chain[chain.length - 1]!;
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break;
        chain.pop();
      }
      chain.push(p);
    }
    chain.pop();
    return chain;
  };
  const hull = [...half(sorted), ...half(sorted.toReversed())];
  return Float64Array.from((hull.length > 0 ? hull : sorted.slice(0, 1)).flat());
}
