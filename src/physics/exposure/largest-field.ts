import type { ClearSurface } from './clear-surface.ts';
import { type CoilCurrents, type PointField, rmsField, type UnitFields } from './link-field.ts';

/** The largest field on a surface around the link. */
export interface LargestField extends PointField {
  /** Where, in the transmitter's frame, m. */
  readonly at: readonly [number, number, number];
  /** Points at which the field was worked out. */
  readonly evaluations: number;
}

export interface SearchOptions {
  /** First looks at each side. */
  readonly directions: number;
  /** How many of the best are followed uphill. */
  readonly climbs: number;
}

export const SEARCH_DEFAULTS: SearchOptions = Object.freeze({ directions: 90, climbs: 3 });

const GOLDEN_ANGLE = Math.PI * (3 - Math.sqrt(5));
/** Step at which a climb ends, rad. */
const LEAST_STEP = 0.006;

interface Seen extends PointField {
  readonly side: 0 | 1;
  readonly polar: number;
  readonly azimuth: number;
  readonly at: readonly [number, number, number];
}

/**
 * The largest resultant rms flux density over a surface: even first looks all round both sides, the best ones followed uphill by
 * a pattern search.
 *
 * Accuracy: within 1 % of a thirty times denser search at 5 mm and beyond (tests/physics/exposure); a lower bound of the true
 * maximum always.
 */
export function largestField(
  fields: UnitFields,
  currents: CoilCurrents,
  surface: ClearSurface,
  options: Partial<SearchOptions> = SEARCH_DEFAULTS,
): LargestField {
  const { directions, climbs } = { ...SEARCH_DEFAULTS, ...options };
  const p = new Float64Array(3);
  let evaluations = 0;
  const look = (side: 0 | 1, polar: number, azimuth: number): Seen | null => {
    if (!surface.point(side, polar, azimuth, p)) return null;
    evaluations++;
    const field = rmsField(fields, currents, p[0]!, p[1]!, p[2]!);
    return { ...field, side, polar, azimuth, at: [p[0]!, p[1]!, p[2]!] };
  };
  const seen: Seen[] = [];
  for (const side of [0, 1] as const) {
    for (let i = 0; i <= directions + 1; i++) {
      // Both poles, and a spiral of equal areas between.
      const height = i === 0 ? 1 : i > directions ? -1 : 1 - (2 * i - 1) / directions;
      const found = look(side, Math.acos(height), i * GOLDEN_ANGLE);
      if (found) seen.push(found);
    }
  }
  seen.sort((a, b) => b.rmsT - a.rmsT);
  let best = seen[0];
  if (!best) return { rmsT: 0, transmitterT: 0, receiverT: 0, at: [0, 0, 0], evaluations };
  for (const start of seen.slice(0, climbs)) {
    let here = start;
    for (let step = Math.sqrt(4 / directions); step > LEAST_STEP; step /= 2) {
      for (let k = 0; k < 12; k++) {
        const turn = step / Math.max(Math.sin(here.polar), 0.1);
        const around = [
          look(here.side, here.polar + step, here.azimuth),
          look(here.side, here.polar - step, here.azimuth),
          look(here.side, here.polar, here.azimuth + turn),
          look(here.side, here.polar, here.azimuth - turn),
        ].filter((entry) => entry !== null);
        const up = around.reduce((a, b) => (b.rmsT > a.rmsT ? b : a), here);
        if (up === here) break;
        here = up;
      }
    }
    if (here.rmsT > best.rmsT) best = here;
  }
  const { rmsT, transmitterT, receiverT, at } = best;
  return { rmsT, transmitterT, receiverT, at, evaluations };
}

/** Where a level is met. */
export interface MetDistance {
  /** Clear distance from the nearest coil or plate from which on the largest field is below the level, m; the range's end where outside. */
  readonly distance: number;
  readonly inRange: 'inside' | 'met at the nearest' | 'not met at the farthest';
  /** Power of the distance with which the field falls there, positive. */
  readonly fall: number;
}

/** Range in which distances are sought, m: nearer lies the device's case, farther the field is that of a dipole. */
export const DISTANCE_RANGE = Object.freeze({ nearest: 0.005, farthest: 2 });

/**
 * The distance from which on a level is met, by the secant on logarithms.
 *
 * @param largest the largest field at a distance, T; falls with it
 * @param level T
 * Accuracy: 0.2 % of the distance for a smooth `largest`.
 */
export function metDistance(largest: (distance: number) => number, level: number, guess = 0.05): MetDistance {
  const { nearest, farthest } = DISTANCE_RANGE;
  const excess = (x: number): number => Math.log(largest(Math.exp(x)) / level);
  const clamp = (x: number): number => Math.min(Math.log(farthest), Math.max(Math.log(nearest), x));
  let a = clamp(Math.log(guess));
  let fa = excess(a);
  // A dipole's field falls with the cube.
  let b = clamp(a + fa / 3);
  if (b === a) b = clamp(a - 0.05) === a ? a + 0.05 : a - 0.05;
  let fb = excess(b);
  const slope = (): number => Math.max(0.2, -(fb - fa) / (b - a));
  for (let k = 0; k < 12 && Math.abs(fb) > 3e-3; k++) {
    const next = clamp(b + fb / slope());
    if (next === b) break;
    a = b;
    fa = fb;
    b = next;
    fb = excess(b);
  }
  const fall = slope();
  if (b <= Math.log(nearest) && fb < 0) return { distance: nearest, inRange: 'met at the nearest', fall };
  if (b >= Math.log(farthest) && fb > 0) return { distance: farthest, inRange: 'not met at the farthest', fall };
  return { distance: Math.exp(b + fb / fall), inRange: 'inside', fall };
}
