import type { Estimate } from './estimate.ts';

export interface BracketedRootOptions {
  /** Absolute tolerance on the abscissa. */
  readonly xTolerance: number;
  /** Stop as soon as |f| is at most this. */
  readonly fTolerance: number;
  readonly maxEvaluations: number;
}

export const BRACKETED_ROOT_DEFAULTS: BracketedRootOptions = Object.freeze({
  xTolerance: 0,
  fTolerance: 0,
  maxEvaluations: 100,
});

export interface BracketedRoot extends Estimate {
  readonly converged: boolean;
}

/**
 * Root of a continuous function between two abscissas where it has opposite signs (or is zero at one of them).
 *
 * @param f function of one variable.
 * @param low one end. @param high the other end. @param fLow `f(low)`. @param fHigh `f(high)`.
 * @returns the root, a bound on its error (width of the last bracket) and the number of evaluations; `converged` is false
 * when the ends have the same sign (value NaN) or the evaluations ran out (value: best point).
 *
 * Method: Chandrupatla's mix of inverse quadratic interpolation and bisection: never leaves the bracket, at most a few
 * evaluations more than bisection in the worst case. Source: T. R. Chandrupatla, Adv. Eng. Software 28 (1997) 145, from memory.
 */
export function bracketedRoot(
  f: (x: number) => number,
  low: number,
  high: number,
  fLow: number,
  fHigh: number,
  options: Partial<BracketedRootOptions> = BRACKETED_ROOT_DEFAULTS,
): BracketedRoot {
  const { xTolerance, fTolerance, maxEvaluations } = { ...BRACKETED_ROOT_DEFAULTS, ...options };
  if (Math.abs(fLow) <= fTolerance) return { value: low, errorEstimate: 0, evaluations: 0, converged: true };
  if (Math.abs(fHigh) <= fTolerance) return { value: high, errorEstimate: 0, evaluations: 0, converged: true };
  if (!(fLow * fHigh < 0)) return { value: Number.NaN, errorEstimate: Number.NaN, evaluations: 0, converged: false };
  let a = high;
  let b = low;
  let fa = fHigh;
  let fb = fLow;
  let c = a;
  let fc = fa;
  let t = 0.5;
  for (let evaluations = 1; evaluations <= maxEvaluations; evaluations++) {
    const x = a + t * (b - a);
    const fx = f(x);
    if (Math.sign(fx) === Math.sign(fa)) {
      c = a;
      fc = fa;
    } else {
      c = b;
      b = a;
      fc = fb;
      fb = fa;
    }
    a = x;
    fa = fx;
    const best = Math.abs(fa) < Math.abs(fb) ? a : b;
    const fBest = Math.min(Math.abs(fa), Math.abs(fb));
    const tolerance = 2 * Number.EPSILON * Math.abs(best) + 0.5 * xTolerance;
    const width = Math.abs(b - a);
    const share = tolerance / width;
    if (share > 0.5 || fBest <= fTolerance || width === 0) {
      return { value: best, errorEstimate: width, evaluations, converged: true };
    }
    // Inverse quadratic interpolation only where it is sure to stay inside.
    const xi = (a - b) / (c - b);
    const phi = (fa - fb) / (fc - fb);
    t = 0.5;
    if (phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi) {
      t = (fa / (fb - fa)) * (fc / (fb - fc)) + ((c - a) / (b - a)) * (fa / (fc - fa)) * (fb / (fc - fb));
    }
    t = Math.min(1 - share, Math.max(share, t));
  }
  const value = Math.abs(fa) < Math.abs(fb) ? a : b;
  return { value, errorEstimate: Math.abs(b - a), evaluations: maxEvaluations, converged: false };
}
