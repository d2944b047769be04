/** What the direct solutions of the worst region add up to; without physics, for whoever collects them. */
import type { AllowedPlace } from './attitude-range.ts';
import type { WorstCheck } from './region-report.ts';

/** An offset about the transmitter's axis, mm, with an allowed gap and attitude, and what the worst map says there. */
export interface WorstPlace extends AllowedPlace {
  readonly xMm: number;
  readonly yMm: number;
  /** Margin of the worst map at that offset, percent: no allowed attitude should have less. */
  readonly worstPercent: number;
}

/** The check from the direct margins, in the order of the places; null without places. */
export function worstCheckOf(places: readonly WorstPlace[], direct: readonly number[]): WorstCheck | null {
  if (places.length === 0) return null;
  return {
    places: places.length,
    shortfallPercent: places.reduce((most, { worstPercent }, k) => Math.max(most, worstPercent - direct[k]!), 0),
  };
}
