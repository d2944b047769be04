import { chiSquareTail } from '../../numerics/chi-square.ts';
import { choleskyFactor, choleskyInverse } from '../../numerics/cholesky.ts';
import { huberWeight } from '../../numerics/levenberg-marquardt.ts';
import type { RandomSource } from '../../numerics/random.ts';
import type { Bench } from './bench.ts';
import type { Optimum } from './optimum.ts';

/** How well an optimum is known, in prior standard deviations. */
export interface Posterior {
  /** `[n, n]` row-major. */
  readonly covariance: Float64Array;
  /** Its lower Cholesky factor, for draws. */
  readonly factor: Float64Array;
  /** Standard deviations. */
  readonly sd: Float64Array;
  /** By how much the readings' errors were widened because they do not fit; 1 where they do. */
  readonly widened: number;
  readonly logVolume: number;
}

/** Measured numbers of a bench, and collapses: what chi-square is compared with. */
export function observationCount(bench: Bench): number {
  return bench.readings.reduce((sum, { observed, regulated }) => sum + observed.length + (regulated ? 0 : 1), 0);
}

/** Below this probability the readings are said not to fit the model. */
export const MISFIT_PROBABILITY = 0.01;

/** How likely a chi-square (priors included) at least as large is, if model, priors and accuracies are right. */
export function fitProbability(bench: Bench, chi2: number): number {
  return chiSquareTail(chi2, observationCount(bench));
}

/** Weight of each row of readings under the robust loss. */
function rowWeights(optimum: Optimum, robustBeyond: number): Float64Array {
  return optimum.residuals.map((residual) => huberWeight(residual, robustBeyond));
}

/**
 * Covariance about an optimum: priors and readings together, (J^T J / s^2 + 1)^-1, where s > 1 widens the readings' errors if they do not
 * fit (chi-square per observation, as is usual where accuracies turn out too optimistic).
 */
export function posteriorOf(bench: Bench, optimum: Optimum, robustBeyond: number): Posterior {
  const n = bench.parameters.length;
  const rows = optimum.residuals.length;
  const weights = rowWeights(optimum, robustBeyond);
  const robustChi2 = optimum.chi2 - optimum.residuals.reduce((sum, r, row) => sum + (1 - weights[row]) * r * r, 0);
  const misfit = fitProbability(bench, robustChi2) < MISFIT_PROBABILITY;
  const widened = misfit ? Math.sqrt(Math.max(1, robustChi2 / Math.max(1, observationCount(bench)))) : 1;
  const covariance = new Float64Array(n * n);
  for (let row = 0; row < rows; row++) {
    const weight = weights[row] / (widened * widened);
    for (let a = 0; a < n; a++) {
      const by = weight * optimum.jacobian[row * n + a];
      if (by === 0) continue;
      for (let b = 0; b <= a; b++) covariance[a * n + b] += by * optimum.jacobian[row * n + b];
    }
  }
  for (let a = 0; a < n; a++) covariance[a * n + a] += 1;
  choleskyFactor(covariance, n);
  let logVolume = 0;
  for (let a = 0; a < n; a++) logVolume -= Math.log(covariance[a * n + a]);
  choleskyInverse(covariance, n);
  const factor = covariance.slice();
  choleskyFactor(factor, n);
  const sd = Float64Array.from({ length: n }, (_, a) => Math.sqrt(covariance[a * n + a]));
  return { covariance, factor, sd, widened, logVolume };
}

/** Variance of a linear combination. */
export function varianceAlong(covariance: Float64Array, direction: ArrayLike<number>): number {
  const n = direction.length;
  let sum = 0;
  for (let a = 0; a < n; a++) {
    if (direction[a] === 0) continue;
    for (let b = 0; b < n; b++) sum += direction[a] * covariance[a * n + b] * direction[b];
  }
  return sum;
}

/** One draw about a point. */
export function drawFrom(centre: Float64Array, factor: Float64Array, random: RandomSource): Float64Array {
  const n = centre.length;
  const unit = random.fillNormal(new Float64Array(n));
  const z = centre.slice();
  for (let a = 0; a < n; a++) for (let b = 0; b <= a; b++) z[a] += factor[a * n + b] * unit[b];
  return z;
}
