import { PREDICTED, type Prediction } from './bench-prediction.ts';

const SIZE = PREDICTED.length;

/**
 * What is added to the quick predictions of all readings so that they agree with the exact ones: `values` at the point `at` where both were
 * taken, and how the difference changes with the fitted values, learned from the points before.
 */
export interface Corrections {
  readonly at: Float64Array;
  /** `[readings, 7]` row-major, in the order of `PREDICTED`. */
  readonly values: Float64Array;
  /** `[readings, 7, parameters]` row-major. */
  readonly slopes: Float64Array;
}

/** The differences of exact and quick predictions; numbers that either does not give are left alone. */
export function differencesOf(exact: readonly Prediction[], quick: readonly Prediction[]): Float64Array {
  const values = new Float64Array(SIZE * exact.length);
  exact.forEach((prediction, reading) => {
    PREDICTED.forEach((key, place) => {
      const difference = prediction[key] - quick[reading][key];
      values[SIZE * reading + place] = Number.isFinite(difference) ? difference : 0;
    });
  });
  return values;
}

/** Moves shorter than this, in prior standard deviations, teach nothing about slopes. */
const LEAST_MOVE = 0.01;

/**
 * The corrections at a new point; the slopes take over what the move from the last point taught (Broyden's rank-one update), so that a
 * direction in which both models differ does not have to be crept along.
 */
export function nextCorrections(last: Corrections | null, at: Float64Array, values: Float64Array): Corrections {
  const n = at.length;
  if (last === null) return { at, values, slopes: new Float64Array(values.length * n) };
  const move = at.map((value, j) => value - last.at[j]);
  const square = move.reduce((sum, value) => sum + value * value, 0);
  const slopes = last.slopes.slice();
  if (square > LEAST_MOVE ** 2) {
    for (let row = 0; row < values.length; row++) {
      let missed = values[row] - last.values[row];
      for (let j = 0; j < n; j++) missed -= last.slopes[row * n + j] * move[j];
      for (let j = 0; j < n; j++) slopes[row * n + j] += (missed * move[j]) / square;
    }
  }
  return { at, values, slopes };
}

/** What one number of a quick prediction misses at `z`; `place` as in `PREDICTED`. */
export function correctionOf(by: Corrections, reading: number, place: number, z: ArrayLike<number>): number {
  const n = by.at.length;
  const row = SIZE * reading + place;
  let sum = by.values[row];
  for (let j = 0; j < n; j++) sum += by.slopes[row * n + j] * (z[j] - by.at[j]);
  return sum;
}
