/** The offsets at which everything is well: outline, reach, inner limit, tightest direction. */
import { InputError } from '../../numerics/errors.ts';
import { type GridField, insideRings, type Ring, refineField, regionRings, ringArea } from './contour.ts';

/**
 * One condition on the grid: met where its value is at least zero. `smooth` conditions are quantities (margin minus the
 * wanted margin, volts over the wake voltage) and are refined by cubics; others are yes or no (+1, -1) and put their border
 * midway between grid points.
 */
export interface Condition {
  readonly name: string;
  readonly slack: Float64Array;
  readonly smooth: boolean;
}

/** Yes-or-no flags as a condition. */
export function flagCondition(name: string, flags: ArrayLike<number>): Condition {
  return { name, slack: Float64Array.from(flags, (flag) => (flag ? 1 : -1)), smooth: false };
}

export interface SafeRegion {
  /** Closed rings, mm, flat x y: outer boundary, then its holes. */
  readonly outline: readonly Ring[];
  /** mm^2 */
  readonly areaMm2: number;
  /** Whether the resting place itself is safe. */
  readonly restIsSafe: boolean;
  /** Radius of the largest disc about the resting place inside the region, mm; 0 where the resting place is unsafe. */
  readonly reachMm: number;
  /** True where the disc ends at the edge of the grid rather than at a limit. */
  readonly reachIsGridEdge: boolean;
  /** Direction in which the reach ends, degrees from +x; NaN for an empty region. */
  readonly tightestDeg: number;
  /** Condition that ends the reach there. */
  readonly limitedBy: string | null;
  /**
   * Where the resting place is unsafe: distance to the nearest safe offset (0 where the rest is safe), the radius from which
   * every direction is safe, and the radius up to which it stays so; the two radii are null where no full ring is safe.
   */
  readonly inner: { readonly nearestMm: number; readonly fromMm: number | null; readonly toMm: number | null };
}

export interface SafeRegionOptions {
  /** Resting place, mm. */
  readonly restMm: readonly [number, number];
  /** Points per grid step for the outline; null: enough for about 256 along each axis. */
  readonly refine: number | null;
}

export const SAFE_REGION_DEFAULTS: SafeRegionOptions = Object.freeze({ restMm: [0, 0] as const, refine: null });

/**
 * Region in which every condition is met.
 * @param xMm ascending. @param yMm ascending. @param conditions each with one value per grid point, row-major [y][x].
 *
 * Accuracy: outline within (grid step / refinement)^2 / (4 radius) of the true one for smooth fields (cubic refinement, then
 * linear): 0.9 um for 129 points over 40 mm and a radius of 7 mm; half a grid step for yes-or-no conditions. Reach, tightest direction and inner limit are exact for that outline.
 * @throws InputError where an array has the wrong length.
 */
export function safeRegion(
  xMm: Float64Array,
  yMm: Float64Array,
  conditions: readonly Condition[],
  options: Partial<SafeRegionOptions> = {},
): SafeRegion {
  const { restMm, refine: asked } = { ...SAFE_REGION_DEFAULTS, ...options };
  const refine = asked ?? Math.max(1, Math.min(8, Math.round(256 / Math.max(xMm.length, yMm.length))));
  const count = xMm.length * yMm.length;
  for (const condition of conditions)
    if (condition.slack.length !== count)
      throw new InputError({
        code: 'condition-length',
        path: `conditions.${condition.name}`,
        required: `${count} values, one per grid point`,
        received: `${condition.slack.length}`,
      });
  const fine = conditions.map((condition) => refineCondition(xMm, yMm, condition, refine));
  const outline = regionRings(fine.length > 0 ? fine : [everywhere(xMm, yMm)], 0);
  const [restX, restY] = restMm;
  const restIsSafe = insideRings(outline, restX, restY);
  const nearest = nearestOnRings(outline, restX, restY);
  const ring = restIsSafe ? { fromMm: 0, toMm: nearest.distance } : safeRing(outline, restX, restY);
  const onEdge =
    nearest.distance < Number.POSITIVE_INFINITY &&
    (same(nearest.x, xMm[0]) ||
      same(nearest.x, xMm[xMm.length - 1]) ||
      same(nearest.y, yMm[0]) ||
      same(nearest.y, yMm[yMm.length - 1]));
  return {
    outline,
    areaMm2: outline.reduce((sum, r) => sum + ringArea(r), 0),
    restIsSafe,
    reachMm: restIsSafe ? nearest.distance : 0,
    reachIsGridEdge: restIsSafe && onEdge,
    tightestDeg: outline.length > 0 ? (Math.atan2(nearest.y - restY, nearest.x - restX) * 180) / Math.PI : Number.NaN,
    limitedBy: outline.length > 0 && !onEdge ? limiting(fine, conditions, nearest.x, nearest.y) : null,
    inner: { nearestMm: restIsSafe ? 0 : nearest.distance, fromMm: ring.fromMm, toMm: ring.toMm },
  };
}

function same(a: number, b: number): boolean {
  return Math.abs(a - b) <= 1e-12 * Math.max(1, Math.abs(a));
}

function refineCondition(x: Float64Array, y: Float64Array, condition: Condition, refine: number): GridField {
  return refineField({ x, y, values: condition.slack }, refine, !condition.smooth);
}

function everywhere(x: Float64Array, y: Float64Array): GridField {
  return { x, y, values: new Float64Array(x.length * y.length).fill(1) };
}

/** Name of the condition whose border is nearest to a point of the outline: the least value against its own slope there. */
function limiting(
  fields: readonly GridField[],
  conditions: readonly Condition[],
  px: number,
  py: number,
): string | null {
  let name: string | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let c = 0; c < fields.length; c += 1) {
    const { x, y, values } = fields[c];
    const i = Math.max(0, Math.min(x.length - 2, lowerIndex(x, px)));
    const j = Math.max(0, Math.min(y.length - 2, lowerIndex(y, py)));
    const corners = [
      values[j * x.length + i],
      values[j * x.length + i + 1],
      values[(j + 1) * x.length + i],
      values[(j + 1) * x.length + i + 1],
    ];
    const low = Math.min(...corners);
    const high = Math.max(...corners);
    // Inside the cell a condition that ends here runs from below to above zero.
    const away = low < 0 ? (high >= 0 ? 0 : 1) : 1 + low / Math.max(high - low, 1e-300);
    const score = Number.isNaN(away) ? 0 : away;
    if (score < least) {
      least = score;
      name = conditions[c].name;
    }
  }
  return name;
}

function lowerIndex(axis: Float64Array, value: number): number {
  let low = 0;
  let high = axis.length - 1;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (axis[mid] <= value) low = mid;
    else high = mid;
  }
  return low;
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

/** Range of distances a ring spans about a place. */
function span(ring: Ring, px: number, py: number): { readonly low: number; readonly high: number } {
  let high = 0;
  for (let k = 0; k < ring.length; k += 2) high = Math.max(high, Math.hypot(ring[k] - px, ring[k + 1] - py));
  return { low: nearestOnRings([ring], px, py).distance, high };
}

/** First annulus about the place that crosses no ring and is safe. */
function safeRing(
  rings: readonly Ring[],
  px: number,
  py: number,
): { readonly fromMm: number | null; readonly toMm: number | null } {
  const spans = rings.map((ring) => span(ring, px, py)).sort((a, b) => a.low - b.low);
  let reached = 0;
  for (let k = 0; k < spans.length; k += 1) {
    reached = Math.max(reached, spans[k].high);
    const end = spans[k + 1]?.low ?? Number.POSITIVE_INFINITY;
    if (end <= reached) continue;
    const middle = Number.isFinite(end) ? (reached + end) / 2 : reached * 1.01 + 1e-9;
    if (insideRings(rings, px + middle, py)) return { fromMm: reached, toMm: Number.isFinite(end) ? end : null };
  }
  return { fromMm: null, toMm: null };
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

/**
 * The lowest of several slack fields point by point: the worst over gap, yaw and tilt before a region is drawn. NaN counts as
 * unmet. All arrays of one length.
 */
export function worstSlack(fields: readonly Float64Array[]): Float64Array {
  const first = fields[0];
  if (!first) return new Float64Array(0);
  return first.map((_, k) => {
    let least = Number.POSITIVE_INFINITY;
    for (const field of fields) {
      const v = field[k];
      if (Number.isNaN(v)) return Number.NEGATIVE_INFINITY;
      least = Math.min(least, v);
    }
    return least;
  });
}

/**
 * Volume of the safe region over the gap, mm^3: piecewise cubic through the areas (Simpson between three neighbours where
 * there are enough), so that a handful of gaps will do.
 * @param gapsMm ascending. @param areasMm2 safe area at each.
 */
export function safeVolume(gapsMm: ArrayLike<number>, areasMm2: ArrayLike<number>): number {
  let volume = 0;
  const n = gapsMm.length;
  for (let k = 0; k + 1 < n; k += 1) {
    const h = gapsMm[k + 1] - gapsMm[k];
    let part = (h * (areasMm2[k] + areasMm2[k + 1])) / 2;
    // Mean of the parabola corrections from both sides; none where the region ends (a kink).
    const bends: number[] = [];
    for (const c of [k - 1, k])
      if (c >= 0 && c + 2 < n && [c, c + 1, c + 2].every((i) => areasMm2[i] > 0)) {
        const slopeA = (areasMm2[c + 1] - areasMm2[c]) / (gapsMm[c + 1] - gapsMm[c]);
        const slopeB = (areasMm2[c + 2] - areasMm2[c + 1]) / (gapsMm[c + 2] - gapsMm[c + 1]);
        bends.push((slopeB - slopeA) / (gapsMm[c + 2] - gapsMm[c]));
      }
    if (bends.length > 0) part -= ((h ** 3 / 6) * bends.reduce((s, b) => s + b, 0)) / bends.length;
    volume += part;
  }
  return volume;
}
