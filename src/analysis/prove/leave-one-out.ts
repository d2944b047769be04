import { chiSquareTail } from '../../numerics/chi-square.ts';
import { solveSmallSystem } from '../../numerics/solve-small-system.ts';
import type { Bench } from './bench.ts';
import type { Optimum } from './optimum.ts';
import type { Posterior } from './posterior.ts';

/** How well the other readings foretell one. */
export interface LeftOut {
  readonly reading: number;
  /** Root mean square of its residuals in units of their accuracy and of what the others leave open; about 1 where all is well. */
  readonly distance: number;
  /** Of a distance at least so large. */
  readonly probability: number;
}

/** A reading less likely than this after the others does not belong. */
export const LEFT_OUT_PROBABILITY = 0.001;

/**
 * Leave-one-out check without fitting again: with H the part of the readings' hat matrix that belongs to one reading, its residuals seen
 * from a fit to the others are (1 - H)^-1 r, and their covariance is (1 - H)^-1. Exact for a linear model with Gaussian priors. In the
 * accuracies as stated, also where the fit had to widen them.
 */
export function leaveOneOut(bench: Bench, optimum: Optimum, posterior: Posterior): LeftOut[] {
  const n = bench.parameters.length;
  let first = 0;
  return bench.readings.map(({ index, observed }) => {
    const rows = observed.length + 1;
    const matrix = new Float64Array(rows * rows);
    const through = new Float64Array(n);
    const weight = 1 / (posterior.widened * posterior.widened);
    for (let a = 0; a < rows; a++) {
      const rowA = (first + a) * n;
      through.fill(0);
      for (let i = 0; i < n; i++) {
        const by = optimum.jacobian[rowA + i];
        if (by === 0) continue;
        for (let j = 0; j < n; j++) through[j] += by * posterior.covariance[i * n + j];
      }
      for (let b = 0; b < rows; b++) {
        let sum = 0;
        for (let j = 0; j < n; j++) sum += through[j] * optimum.jacobian[(first + b) * n + j];
        matrix[a * rows + b] = (a === b ? 1 : 0) - weight * sum;
      }
    }
    const right = optimum.residuals.slice(first, first + rows);
    const own = right.slice();
    const regular = solveSmallSystem(matrix, right, rows);
    let square = 0;
    for (let a = 0; a < rows; a++) square += own[a] * right[a];
    first += rows;
    const numbers = Math.max(1, observed.length);
    const chi2 = regular ? Math.max(0, square) : Number.NaN;
    return { reading: index, distance: Math.sqrt(chi2 / numbers), probability: chiSquareTail(chi2, numbers) };
  });
}
