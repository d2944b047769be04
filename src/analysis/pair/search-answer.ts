import type { Design } from '../../design/types.ts';
import type { CandidateReport } from './candidate-report.ts';
import type { SearchGoal } from './search-space.ts';
import type { TrialResult } from './search-trial.ts';

/** One design that the search found, with the quick values it was ranked by. */
export interface FoundDesign {
  readonly design: Design;
  readonly result: TrialResult;
}

/** A found design judged like a rival, by direct solutions. */
export interface ConfirmedDesign extends FoundDesign {
  readonly report: CandidateReport;
}

export interface SearchAnswer {
  readonly goal: SearchGoal;
  /** The present pair, judged the same way, and its quick values. */
  readonly own: CandidateReport;
  readonly ownResult: TrialResult | null;
  /** Designs that no other beats in both gain and loss, ascending in gain. */
  readonly front: readonly FoundDesign[];
  /** Best first. */
  readonly confirmed: readonly ConfirmedDesign[];
  readonly trials: number;
}

/** What a goal asks to be large. */
export function gainOf(goal: SearchGoal, result: TrialResult): number {
  return goal === 'current' ? result.maxOutputA : result.reachMm;
}
