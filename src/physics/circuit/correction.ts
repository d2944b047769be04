import { type MaxOutputOptions, maxOutput } from './max-output.ts';
import type { Boards, Limit, LinkElectrical } from './types.ts';
import { wakingAt } from './wake.ts';

/** How far the first harmonic is off at one pose. */
export interface Correction {
  /** Exact and fast largest load, A, and the limit behind the exact one. */
  readonly exactA: number;
  readonly fastA: number;
  readonly limitedBy: Limit;
  /** Exact minus fast: smooth over poses where a ratio would not be, since the fast one passes through zero. */
  readonly difference: number;
  /** |difference| over the exact value (over 0.05 A where that is smaller). */
  readonly relative: number;
  /** Exact over fast wake voltage; 1 where the fast one is zero. */
  readonly wakeRatio: number;
}

/** Disagreement above which maps must be corrected. */
export const CORRECTION_THRESHOLD = 0.02;

/**
 * Compares the map's method with the exact one at one pose: largest load and wake voltage. Sample some poses, interpolate `difference`
 * and `wakeRatio` over the map and add them where `relative` exceeds `CORRECTION_THRESHOLD`. About 30 ms a pose.
 */
export function correctionAt(
  link: LinkElectrical,
  boards: Boards,
  options: Partial<MaxOutputOptions> = {},
): Correction {
  const exact = maxOutput(link, boards, { ...options, tier: 'exact' });
  const fast = maxOutput(link, boards, { ...options, tier: 'fast' });
  const exactWake = wakingAt(link, boards, 'exact').rectifiedV;
  const fastWake = wakingAt(link, boards, 'fast').rectifiedV;
  const difference = exact.current - fast.current;
  return {
    exactA: exact.current,
    fastA: fast.current,
    limitedBy: exact.limitedBy,
    difference,
    relative: Math.abs(difference) / Math.max(exact.current, 0.05),
    wakeRatio: fastWake > 0 ? exactWake / fastWake : 1,
  };
}
