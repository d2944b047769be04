import { insideRings, type Ring } from '../hold/ring-geometry.ts';

/** Way from the origin along (dx, dy), a unit vector, to the first ring; 0 where the origin is outside. */
export function rayLength(rings: readonly Ring[], dx: number, dy: number): number {
  if (!insideRings(rings, 0, 0)) return 0;
  let least = Number.POSITIVE_INFINITY;
  for (const ring of rings) {
    const points = ring.length / 2;
    for (let i = 0; i < points; i++) {
      const j = (i + 1) % points;
      // Across and along the ray.
      const [ax, bx] = [ring[2 * i]! * dy - ring[2 * i + 1]! * dx, ring[2 * j]! * dy - ring[2 * j + 1]! * dx];
      const [al, bl] = [ring[2 * i]! * dx + ring[2 * i + 1]! * dy, ring[2 * j]! * dx + ring[2 * j + 1]! * dy];
      if (ax > 0 === bx > 0) continue;
      const way = al + ((bl - al) * ax) / (ax - bx);
      if (way >= 0) least = Math.min(least, way);
    }
  }
  return least;
}
