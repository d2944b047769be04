/** The offsets at which everything is well: outline, reach, inner limit, tightest direction. */
import { InputError } from '../../numerics/errors.ts';
import { type GridField, regionRings } from './contour.ts';
import { refineField } from './refine-field.ts';
import { insideRings, nearestOnRings, type Ring, ringArea } from './ring-geometry.ts';

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
