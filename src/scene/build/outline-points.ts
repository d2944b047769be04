import type { PlateOutline } from '../../physics/coil/types.ts';

/** Points of a rounded rectangle centred on the origin, counter-clockwise from its right side; [n, 2] row-major, m. */
function roundedRectangle(width: number, height: number, radius: number, arcStep: number): number[] {
  const r = Math.max(0, Math.min(radius, width / 2, height / 2));
  const cx = width / 2 - r;
  const cy = height / 2 - r;
  const steps = r > 1e-9 ? Math.max(1, Math.ceil(Math.PI / 2 / arcStep)) : 0;
  const points: number[] = [];
  for (let corner = 0; corner < 4; corner++) {
    const sx = corner === 0 || corner === 3 ? 1 : -1;
    const sy = corner < 2 ? 1 : -1;
    for (let i = 0; i <= steps; i++) {
      const angle = (Math.PI / 2) * (corner + (steps === 0 ? 0.5 : i / steps));
      const x = sx * cx + r * Math.cos(angle);
      const y = sy * cy + r * Math.sin(angle);
      const n = points.length;
      if (n < 2 || Math.hypot(points[n - 2]! - x, points[n - 1]! - y) > 1e-9) points.push(x, y);
    }
  }
  const n = points.length;
  if (Math.hypot(points[0]! - points[n - 2]!, points[1]! - points[n - 1]!) < 1e-9) points.length = n - 2;
  return points;
}

/**
 * The edge of a plate as a closed polygon about the origin, counter-clockwise, not repeating its first point.
 * @param arcStep angle between points on curved parts, rad.
 * @returns [n, 2] row-major x y, m.
 */
export function outlinePoints(outline: PlateOutline, arcStep = Math.PI / 32): Float64Array {
  if (outline.shape === 'circle') {
    const n = Math.max(12, Math.ceil((2 * Math.PI) / arcStep));
    const points = new Float64Array(2 * n);
    for (let i = 0; i < n; i++) {
      points[2 * i] = (outline.diameter / 2) * Math.cos((2 * Math.PI * i) / n);
      points[2 * i + 1] = (outline.diameter / 2) * Math.sin((2 * Math.PI * i) / n);
    }
    return points;
  }
  const radius = outline.shape === 'stadium' ? Math.min(outline.width, outline.height) / 2 : outline.cornerRadius;
  return Float64Array.from(roundedRectangle(outline.width, outline.height, radius, arcStep));
}

/** A wedge taken out of a plate, from one angle counter-clockwise to another, rad from +x. */
export interface Wedge {
  readonly from: number;
  readonly to: number;
}

const TURN = 2 * Math.PI;
const wrap = (angle: number): number => ((angle % TURN) + TURN) % TURN;

/** Where a ray from the origin meets a closed polygon that is star-shaped about the origin. */
function rayHit(points: Float64Array, angle: number): readonly [number, number] {
  const dx = Math.cos(angle);
  const dy = Math.sin(angle);
  const n = points.length / 2;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const ax = points[2 * i]!;
    const ay = points[2 * i + 1]!;
    const ex = points[2 * j]! - ax;
    const ey = points[2 * j + 1]! - ay;
    const det = dy * ex - dx * ey;
    if (Math.abs(det) < 1e-18) continue;
    const along = (ay * ex - ax * ey) / det;
    const on = (dx * ay - dy * ax) / det;
    if (along > 0 && on >= -1e-9 && on <= 1 + 1e-9) return [along * dx, along * dy];
  }
  return [0, 0];
}

/**
 * What is left of a star-shaped polygon's edge once a wedge is taken out: an open run of points, counter-clockwise from
 * the wedge's end round to its start. Both cut points are exact.
 */
export function withoutWedge(points: Float64Array, wedge: Wedge): Float64Array {
  const span = TURN - wrap(wedge.to - wedge.from);
  const kept: { turn: number; x: number; y: number }[] = [];
  for (let i = 0; i < points.length; i += 2) {
    const turn = wrap(Math.atan2(points[i + 1]!, points[i]!) - wedge.to);
    if (turn > 1e-6 && turn < span - 1e-6) kept.push({ turn, x: points[i]!, y: points[i + 1]! });
  }
  kept.sort((a, b) => a.turn - b.turn);
  const start = rayHit(points, wedge.to);
  const end = rayHit(points, wedge.from);
  return Float64Array.from([...start, ...kept.flatMap((p) => [p.x, p.y]), ...end]);
}
