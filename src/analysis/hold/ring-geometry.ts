/** Closed rings in the plane: area, inside, nearest point, containment. */

/** A closed ring, flat x y, not repeating the first point; counter-clockwise around the region, clockwise around a hole. */
export type Ring = Float64Array;

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

/** Nearest point of any ring to a place; distance Infinity where there is none. */
export function nearestOnRings(
  rings: readonly Ring[],
  px: number,
  py: number,
): { readonly distance: number; readonly x: number; readonly y: number } {
  let distance = Number.POSITIVE_INFINITY;
  let x = Number.NaN;
  let y = Number.NaN;
  for (const ring of rings) {
    const n = ring.length;
    for (let k = 0; k < n; k += 2) {
      const m = (k + 2) % n;
      const dx = ring[m] - ring[k];
      const dy = ring[m + 1] - ring[k + 1];
      const length2 = dx * dx + dy * dy;
      const t = length2 > 0 ? ((px - ring[k]) * dx + (py - ring[k + 1]) * dy) / length2 : 0;
      const s = Math.max(0, Math.min(1, t));
      const qx = ring[k] + s * dx;
      const qy = ring[k + 1] + s * dy;
      const d = Math.hypot(qx - px, qy - py);
      if (d < distance) {
        distance = d;
        x = qx;
        y = qy;
      }
    }
  }
  return { distance, x, y };
}

/** Whether a polygon (rest band, play) lies wholly inside a region: its points inside, no crossing, no hole swallowed. */
export function polygonInside(rings: readonly Ring[], polygon: Float64Array): boolean {
  if (polygon.length < 2) return false;
  for (let k = 0; k < polygon.length; k += 2) if (!insideRings(rings, polygon[k], polygon[k + 1])) return false;
  for (const ring of rings) {
    for (let k = 0; k < ring.length; k += 2) {
      const m = (k + 2) % ring.length;
      for (let p = 0; p < polygon.length; p += 2) {
        const q = (p + 2) % polygon.length;
        if (crosses(ring[k], ring[k + 1], ring[m], ring[m + 1], polygon[p], polygon[p + 1], polygon[q], polygon[q + 1]))
          return false;
      }
    }
    if (ringArea(ring) < 0 && polygon.length >= 6) {
      const ccw = ringArea(polygon) >= 0 ? polygon : polygon.slice();
      for (let k = 0; k < ring.length; k += 2) if (insideRings([ccw], ring[k], ring[k + 1])) return false;
    }
  }
  return true;
}

function crosses(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
  dx: number,
  dy: number,
): boolean {
  const side = (px: number, py: number, qx: number, qy: number, rx: number, ry: number) =>
    (qx - px) * (ry - py) - (qy - py) * (rx - px);
  return (
    side(ax, ay, bx, by, cx, cy) * side(ax, ay, bx, by, dx, dy) < 0 &&
    side(cx, cy, dx, dy, ax, ay) * side(cx, cy, dx, dy, bx, by) < 0
  );
}
