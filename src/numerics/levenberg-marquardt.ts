import { choleskyFactor, choleskySolve } from './cholesky.ts';

/** A sum of squares to be made small. Variables should be scaled so that a step of one is a natural one for each. */
export interface LeastSquaresProblem {
  readonly variables: number;
  readonly residuals: number;
  /** Fills `out`, `[residuals]`. A NaN makes the point forbidden. */
  evaluate(x: Float64Array, out: Float64Array): void;
  /** Fills `out`, `[residuals, variables]` row-major; `at` holds the residuals at `x`. */
  jacobian(x: Float64Array, at: Float64Array, out: Float64Array): void;
}

export interface LeastSquaresOptions {
  readonly maxIterations: number;
  /** Largest step, in any variable, at which the search has arrived. */
  readonly stepTolerance: number;
  /** Relative decrease of the sum below which, twice running, the search has arrived. */
  readonly decreaseTolerance: number;
  /** Residuals beyond this count linearly (Huber's loss); Infinity: plain least squares. */
  readonly huber: number;
  /** Only the first so many residuals are subject to Huber's loss; priors are not. */
  readonly huberRows: number;
  /** No variable leaves [-bound, bound]. */
  readonly bound: number;
}

export const LEAST_SQUARES_DEFAULTS: LeastSquaresOptions = Object.freeze({
  maxIterations: 60,
  stepTolerance: 1e-5,
  decreaseTolerance: 1e-7,
  huber: Number.POSITIVE_INFINITY,
  huberRows: Number.POSITIVE_INFINITY,
  bound: Number.POSITIVE_INFINITY,
});

export interface LeastSquaresResult {
  readonly x: Float64Array;
  readonly residuals: Float64Array;
  /** At `x`, `[residuals, variables]` row-major. */
  readonly jacobian: Float64Array;
  /** Sum of squares, or of twice Huber's loss. */
  readonly sum: number;
  readonly iterations: number;
  readonly converged: boolean;
}

/** Twice Huber's loss of a residual: its square up to `limit`, then linear. */
export function huberSquare(residual: number, limit: number): number {
  const size = Math.abs(residual);
  return size <= limit ? size * size : 2 * limit * size - limit * limit;
}

/** Weight of a residual under Huber's loss: 1 up to `limit`, then falling with its size. */
export function huberWeight(residual: number, limit: number): number {
  const size = Math.abs(residual);
  return size <= limit ? 1 : limit / size;
}

/**
 * Minimises a sum of squares from a start by Levenberg-Marquardt with Nielsen's damping; steps are kept inside the bound.
 *
 * @param start is copied. @returns the best point seen, with residuals and Jacobian there; `converged` false where the iterations ran out
 *   or no step helps although the gradient is not small.
 *
 * Accuracy: NIST StRD problems to 6 digits of the certified parameters (tests/numerics/levenberg-marquardt.test.ts).
 * Source: K. Madsen, H. B. Nielsen, O. Tingleff, "Methods for non-linear least squares problems", 2nd ed., DTU 2004, section 3.2
 * (from memory). Huber's loss by reweighting the rows in gradient and Gauss-Newton matrix.
 */
export function leastSquares(
  problem: LeastSquaresProblem,
  start: Float64Array,
  options: Partial<LeastSquaresOptions> = LEAST_SQUARES_DEFAULTS,
): LeastSquaresResult {
  const settings = { ...LEAST_SQUARES_DEFAULTS, ...options };
  const { variables: n, residuals: m } = problem;
  const limitOf = (row: number): number => (row < settings.huberRows ? settings.huber : Number.POSITIVE_INFINITY);
  const sumOf = (residuals: Float64Array): number => {
    let sum = 0;
    for (let i = 0; i < m; i++) sum += huberSquare(residuals[i], limitOf(i));
    return sum;
  };
  let x: Float64Array = start.slice();
  let residuals: Float64Array = new Float64Array(m);
  const jacobian = new Float64Array(m * n);
  problem.evaluate(x, residuals);
  let sum = sumOf(residuals);
  let iterations = 0;
  let converged = false;
  let stale = true;
  let small = 0;
  let damping = -1;
  let growth = 2;
  const normal = new Float64Array(n * n);
  const gradient = new Float64Array(n);
  const matrix = new Float64Array(n * n);
  const step = new Float64Array(n);
  const trial = new Float64Array(m);
  while (Number.isFinite(sum) && iterations < settings.maxIterations) {
    iterations++;
    if (stale) {
      problem.jacobian(x, residuals, jacobian);
      normalEquations(jacobian, residuals, m, n, limitOf, normal, gradient);
      stale = false;
      if (damping < 0) damping = 1e-3 * largestDiagonal(normal, n);
    }
    let finite = true;
    matrix.set(normal);
    for (let j = 0; j < n; j++) {
      matrix[j * n + j] += damping;
      step[j] = -gradient[j];
      if (!Number.isFinite(gradient[j])) finite = false;
    }
    if (!finite) break;
    if (!choleskyFactor(matrix, n)) {
      damping *= growth;
      growth *= 2;
      continue;
    }
    choleskySolve(matrix, n, step);
    const next = x.slice();
    let longest = 0;
    let promised = 0;
    for (let j = 0; j < n; j++) {
      next[j] = Math.min(settings.bound, Math.max(-settings.bound, x[j] + step[j]));
      const moved = next[j] - x[j];
      longest = Math.max(longest, Math.abs(moved));
      promised += moved * (damping * moved - gradient[j]);
    }
    if (longest <= settings.stepTolerance) {
      converged = true;
      break;
    }
    problem.evaluate(next, trial);
    const at = sumOf(trial);
    const gain = (sum - at) / Math.max(promised, 1e-300);
    if (at < sum) {
      small = sum - at < settings.decreaseTolerance * (sum + 1e-12) ? small + 1 : 0;
      x = next;
      residuals = trial.slice();
      sum = at;
      stale = true;
      damping *= Math.max(1 / 3, 1 - (2 * gain - 1) ** 3);
      growth = 2;
      if (small >= 2) {
        converged = true;
        break;
      }
    } else {
      // A step this small that does not help any more: the noise of the function is reached.
      if (longest <= 30 * settings.stepTolerance) {
        converged = true;
        break;
      }
      damping *= growth;
      growth *= 2;
      if (damping > 1e14) break;
    }
  }
  if (stale && Number.isFinite(sum)) problem.jacobian(x, residuals, jacobian);
  return { x, residuals, jacobian, sum, iterations, converged };
}

function normalEquations(
  jacobian: Float64Array,
  residuals: Float64Array,
  m: number,
  n: number,
  limitOf: (row: number) => number,
  normal: Float64Array,
  gradient: Float64Array,
): void {
  normal.fill(0);
  gradient.fill(0);
  for (let i = 0; i < m; i++) {
    const weight = huberWeight(residuals[i], limitOf(i));
    const row = i * n;
    for (let a = 0; a < n; a++) {
      const wa = weight * jacobian[row + a];
      if (wa === 0) continue;
      gradient[a] += wa * residuals[i];
      for (let b = 0; b <= a; b++) normal[a * n + b] += wa * jacobian[row + b];
    }
  }
  for (let a = 0; a < n; a++) for (let b = 0; b < a; b++) normal[b * n + a] = normal[a * n + b];
}

function largestDiagonal(matrix: Float64Array, n: number): number {
  let most = 1e-12;
  for (let j = 0; j < n; j++) most = Math.max(most, matrix[j * n + j]);
  return most;
}
