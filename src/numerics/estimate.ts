/** A computed value together with what the computation knows about its own error. */
export interface Estimate {
  readonly value: number;
  /** Bound on |value - exact| of the stated model, same unit as `value`. Numerical error only. */
  readonly errorEstimate: number;
  /** Work done: kernel evaluations, iterations or solves, as the function states. */
  readonly evaluations: number;
}
