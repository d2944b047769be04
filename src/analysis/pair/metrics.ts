/** What two candidates are compared by, with one input at one end of its tolerance. */
export interface Metrics {
  /** Centred. */
  readonly coupling: number;
  /** Centred. */
  readonly maxOutputA: number;
  readonly reachMm: number;
  /** Way from the centre to the safe outline, the shorter of both directions; the map's edge where it lies beyond. */
  readonly alongXMm: number;
  readonly alongYMm: number;
}

/** Paths of the changes that stand for numerical errors: each candidate has its own. */
export const NUMERICAL = 'numerical.';
