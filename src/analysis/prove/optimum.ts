import { type LeastSquaresOptions, leastSquares } from '../../numerics/levenberg-marquardt.ts';
import { randomSource } from '../../numerics/random.ts';
import type { Bench } from './bench.ts';
import { exactPrediction, type Prediction, quickMost, quickPrediction } from './bench-prediction.ts';
import { BenchProblem, limitDistance } from './bench-problem.ts';
import { benchBoards, benchElectrical, stateAt } from './bench-state.ts';
import { type Corrections, differencesOf, nextCorrections } from './corrections.ts';

export interface FitOptions {
  readonly starts: number;
  /** Residuals beyond so many standard deviations count linearly, so that one misread number does not carry the fit; Infinity: they do. */
  readonly robustBeyond: number;
  readonly seed: number;
  /** Draws behind the bands of what follows from the fit. */
  readonly draws: number;
}

export const FIT_DEFAULTS: FitOptions = Object.freeze({
  starts: 16,
  robustBeyond: Number.POSITIVE_INFINITY,
  seed: 1,
  draws: 200,
});

/** Starts beyond the first are drawn this many times as wide as the priors. */
const START_SPREAD = 1.3;
/** No value leaves its prior by more than so many standard deviations. */
const BOUND = 6;
/** The covariances are taken anew at the point found, and the search repeated. */
const ROUNDS = 2;
/** Where one search of the quick model ended. */
export interface RoughOptimum {
  readonly start: number;
  readonly z: Float64Array;
  /** Chi-square with the priors. */
  readonly chi2: number;
  readonly converged: boolean;
}

/** An optimum of the exact model. */
export interface Optimum {
  readonly z: Float64Array;
  /** Readings and priors. */
  readonly chi2: number;
  /** Readings alone. */
  readonly dataChi2: number;
  /** Of the readings' rows. */
  readonly residuals: Float64Array;
  /** `[rows of readings, parameters]` row-major: slopes of the readings' residuals. */
  readonly jacobian: Float64Array;
  /** Exact minus quick. */
  readonly corrections: Corrections;
  /** Exact predictions, per reading; the largest current is NaN where it is far from the load. */
  readonly predictions: readonly Prediction[];
  /** Standard deviation of each measured number with the errors of supply and load in it, per reading. */
  readonly sigmas: readonly (readonly number[])[];
  readonly converged: boolean;
}

function searchOptions(problem: BenchProblem, options: FitOptions): Partial<LeastSquaresOptions> {
  return {
    bound: BOUND,
    huber: options.robustBeyond,
    huberRows: problem.dataRows,
    stepTolerance: 2e-3,
    decreaseTolerance: 1e-5,
  };
}

/** Where a search begins: the priors' middle for the first, a seeded draw around it for the others. */
export function startPoint(variables: number, start: number, seed: number): Float64Array {
  const z = new Float64Array(variables);
  if (start === 0) return z;
  const random = randomSource(1000 * seed + start);
  for (let j = 0; j < variables; j++) z[j] = START_SPREAD * Math.max(-2.5, Math.min(2.5, random.normal()));
  return z;
}

/** One search of the quick model from one start: some tenths of a second for twenty readings. */
export function searchFrom(bench: Bench, start: number, options: FitOptions): RoughOptimum {
  const problem = new BenchProblem(bench);
  let z = startPoint(problem.variables, start, options.seed);
  let chi2 = Number.POSITIVE_INFINITY;
  let converged = false;
  for (let round = 0; round < ROUNDS; round++) {
    const found = leastSquares(problem, z, { ...searchOptions(problem, options), maxIterations: 40 });
    z = found.x;
    chi2 = found.sum;
    converged = found.converged;
    problem.reweigh(z);
  }
  return { start, z, chi2, converged };
}

/** Readings within so many standard deviations of their limit have it worked out exactly. */
const NEAR_LIMIT = 6;

/** Exact and quick predictions of some readings. The largest current is NaN in the exact ones where it is far from the load. */
export interface PredictionPair {
  readonly exact: readonly Prediction[];
  readonly quick: readonly Prediction[];
}

/** Predictions of readings `from` to `to` at a point: about ten milliseconds each, forty near their limit. */
export function predictionsAt(bench: Bench, z: Float64Array, from: number, to: number): PredictionPair {
  const state = stateAt(bench.boards, bench.parameters, z);
  const quick: Prediction[] = [];
  const exact = bench.readings.slice(from, to).map((reading): Prediction => {
    const link = benchElectrical(bench.links[reading.pose], reading.pose, state);
    const boards = benchBoards(state, reading.supplyV);
    const maxOutputA = quickMost(link, boards);
    quick.push({ ...quickPrediction(link, boards, reading.loadA), maxOutputA });
    const near = !reading.regulated || limitDistance(reading, maxOutputA) < NEAR_LIMIT;
    return exactPrediction(link, boards, reading.loadA, near);
  });
  return { exact, quick };
}

/** Where the corrected quick model has its optimum, searched from `z`. */
export function settle(
  bench: Bench,
  z: Float64Array,
  corrections: Corrections,
  options: FitOptions,
): { readonly z: Float64Array; readonly moved: number; readonly converged: boolean } {
  const problem = new BenchProblem(bench);
  problem.correct(corrections);
  problem.reweigh(z);
  const found = leastSquares(problem, z, { ...searchOptions(problem, options), maxIterations: 25 });
  let moved = 0;
  for (let j = 0; j < z.length; j++) moved = Math.max(moved, Math.abs(found.x[j] - z[j]));
  return { z: found.x, moved, converged: found.converged };
}

/** Everything about a point at which both models were solved. */
export function optimumAt(
  bench: Bench,
  z: Float64Array,
  corrections: Corrections,
  predictions: readonly Prediction[],
  converged: boolean,
): Optimum {
  const problem = new BenchProblem(bench);
  problem.correct(corrections);
  problem.reweigh(z);
  problem.central = true;
  const residuals = new Float64Array(problem.residuals);
  problem.evaluate(z, residuals);
  const full = new Float64Array(problem.residuals * problem.variables);
  problem.jacobian(z, residuals, full);
  let dataChi2 = 0;
  for (let row = 0; row < problem.dataRows; row++) dataChi2 += residuals[row] ** 2;
  const chi2 = residuals.reduce((sum, r) => sum + r * r, 0);
  return {
    z,
    chi2,
    dataChi2,
    residuals: residuals.slice(0, problem.dataRows),
    jacobian: full.slice(0, problem.dataRows * problem.variables),
    corrections,
    predictions,
    sigmas: bench.readings.map((reading, index) =>
      reading.observed.map((_, place) => problem.totalSigma(index, place)),
    ),
    converged,
  };
}

/** The work of a refinement, done here or handed to workers. */
export interface RefineWork {
  exact(bench: Bench, z: Float64Array, from: number, to: number): Promise<PredictionPair>;
  settle(
    bench: Bench,
    z: Float64Array,
    corrections: Corrections,
    options: FitOptions,
  ): Promise<ReturnType<typeof settle>>;
  optimum(
    bench: Bench,
    z: Float64Array,
    corrections: Corrections,
    predictions: readonly Prediction[],
    converged: boolean,
  ): Promise<Optimum>;
}

/** Rounds of the exact stage, and the largest move of a value (prior standard deviations) at which it has settled. */
const EXACT_ROUNDS = 10;
const SETTLED = 0.03;
/** Readings solved exactly in one piece of work. */
const EXACT_CHUNK = 4;

/**
 * Carries a rough optimum over to the exact circuit: the exact model is solved at the point found, its difference from the quick one is
 * added to the quick one, and the search repeated until neither moves. What is left is a stationary point of the exact model's residuals
 * with the quick model's slopes and what the moves taught about their error.
 */
export async function refineOptimum(
  bench: Bench,
  from: Float64Array,
  options: FitOptions,
  work: RefineWork,
): Promise<Optimum> {
  const count = bench.readings.length;
  const starts = Array.from({ length: Math.ceil(count / EXACT_CHUNK) }, (_, k) => k * EXACT_CHUNK);
  let z = from;
  let settled = false;
  let corrections: Corrections | null = null;
  for (let round = 0; ; round++) {
    const at = z;
    const parts = await Promise.all(
      starts.map((first) => work.exact(bench, at, first, Math.min(count, first + EXACT_CHUNK))),
    );
    const exact = parts.flatMap((part) => part.exact);
    const quick = parts.flatMap((part) => part.quick);
    corrections = nextCorrections(corrections, z, differencesOf(exact, quick));
    if (settled || round === EXACT_ROUNDS) return work.optimum(bench, z, corrections, exact, settled);
    const found = await work.settle(bench, z, corrections, options);
    settled = found.moved < SETTLED && found.converged;
    z = found.z;
  }
}
