import { choleskyFactor } from '../../numerics/cholesky.ts';
import type { LeastSquaresProblem } from '../../numerics/levenberg-marquardt.ts';
import { complementaryErrorFunction } from '../../numerics/normal-distribution.ts';
import type { Bench, BenchReading } from './bench.ts';
import { PREDICTED, quickMost, quickPrediction } from './bench-prediction.ts';
import { type BenchState, benchBoards, benchElectrical, stateAt } from './bench-state.ts';
import { type Corrections, correctionOf } from './corrections.ts';

/** Differences reach this far, in prior standard deviations: above the noise of the searches inside the model. */
const STEP = 0.05;

/** Readings farther than this from their limit, in its accuracy, do not have its slope worked out: it counts nothing there. */
const FAR = 9;

const MOST = PREDICTED.indexOf('maxOutputA');

/** -2 ln of the probability that a standard normal lies below x, as a residual: near 0 where x is large, |x| where it is far below 0. */
export function oneSidedResidual(x: number): number {
  if (x < -25) {
    // Tail of the normal: x^2 + 2 ln(|x| sqrt(2 pi)).
    return Math.sqrt(x * x + 2 * Math.log(-x * Math.sqrt(2 * Math.PI)));
  }
  const probability = 0.5 * complementaryErrorFunction(-x * Math.SQRT1_2);
  return Math.sqrt(Math.max(0, -2 * Math.log(probability)));
}

/** How far the predicted largest current lies on the right side of the load, in units of its accuracy. */
export function limitDistance(reading: BenchReading, maxOutputA: number): number {
  const above = (maxOutputA - reading.loadA) / reading.limitSigmaA;
  return reading.regulated ? above : -above;
}

/**
 * The residuals of a bench in units of their accuracy, then the priors: `z` itself.
 *
 * A reading's measured numbers share the errors of the supply voltage and of the load that were set: they are decorrelated by the
 * Cholesky factor of their covariance, which `reweigh` takes from the model. A reading's last row is its limit: in regulation the
 * largest current lies above the load, collapsed below, as the probability of a normal error.
 */
export class BenchProblem implements LeastSquaresProblem {
  readonly bench: Bench;
  readonly variables: number;
  readonly residuals: number;
  /** Rows that come from readings; the priors follow. */
  readonly dataRows: number;
  /** First row of each reading. */
  readonly rowOf: readonly number[];
  /** Slopes by differences to both sides: for reported ones. A search does with one side, at half the price. */
  central = false;
  #corrections: Corrections | null = null;
  /** Lower Cholesky factors of each reading's covariance, row-major. */
  #factors: readonly Float64Array[] = [];
  readonly #up: Float64Array;
  readonly #down: Float64Array;

  constructor(bench: Bench) {
    this.bench = bench;
    this.variables = bench.parameters.length;
    const rowOf: number[] = [];
    let row = 0;
    for (const reading of bench.readings) {
      rowOf.push(row);
      row += reading.observed.length + 1;
    }
    this.rowOf = rowOf;
    this.dataRows = row;
    this.residuals = row + this.variables;
    this.#up = new Float64Array(row);
    this.#down = new Float64Array(row);
    this.reweigh(new Float64Array(this.variables));
  }

  /** From now on the quick model's numbers are corrected by these. */
  correct(corrections: Corrections | null): void {
    this.#corrections = corrections;
  }

  /** What the model says for each measured number of a reading, at another supply voltage or load if given. */
  #observedAt(index: number, state: BenchState, supplyV?: number, loadA?: number): number[] {
    const reading = this.bench.readings[index];
    if (reading.observed.length === 0) return [];
    const link = benchElectrical(this.bench.links[reading.pose], reading.pose, state);
    const quick = quickPrediction(link, benchBoards(state, supplyV ?? reading.supplyV), loadA ?? reading.loadA);
    const by = this.#corrections;
    return reading.observed.map(({ quantity }) => {
      const add = by === null ? 0 : correctionOf(by, index, PREDICTED.indexOf(quantity), state.z);
      return quick[quantity] + add;
    });
  }

  /** Takes the readings' covariances at `z`: their own accuracy, and what the errors of supply voltage and load do to them. */
  reweigh(z: Float64Array): void {
    const state = stateAt(this.bench.boards, this.bench.parameters, z);
    this.#factors = this.bench.readings.map((reading, index) => {
      const { observed, supplyV, supplySigmaV, loadA, loadSigmaA } = reading;
      const count = observed.length;
      const factor = new Float64Array(count * count);
      if (count === 0) return factor;
      const half = (up: number[], down: number[]): number[] => up.map((value, place) => (value - down[place]) / 2);
      const load = Math.min(loadSigmaA, 0.5 * loadA);
      const byVolts = half(
        this.#observedAt(index, state, supplyV + supplySigmaV),
        this.#observedAt(index, state, supplyV - supplySigmaV),
      );
      const byLoad = half(
        this.#observedAt(index, state, supplyV, loadA + load),
        this.#observedAt(index, state, supplyV, loadA - load),
      );
      for (let a = 0; a < count; a++) {
        for (let b = 0; b <= a; b++) factor[a * count + b] = byVolts[a] * byVolts[b] + byLoad[a] * byLoad[b];
        factor[a * count + a] += observed[a].sigma ** 2;
      }
      if (!choleskyFactor(factor, count)) {
        // Cannot happen with positive accuracies; left as independent.
        factor.fill(0);
        for (let a = 0; a < count; a++) factor[a * count + a] = observed[a].sigma;
      }
      return factor;
    });
  }

  /** Standard deviation of one measured number with the errors of supply and load in it. */
  totalSigma(index: number, place: number): number {
    const count = this.bench.readings[index].observed.length;
    const factor = this.#factors[index];
    let sum = 0;
    for (let b = 0; b <= place; b++) sum += factor[place * count + b] ** 2;
    return Math.sqrt(sum);
  }

  evaluate(z: Float64Array, out: Float64Array): void {
    const state = stateAt(this.bench.boards, this.bench.parameters, z);
    for (let index = 0; index < this.bench.readings.length; index++) {
      this.#measured(index, state, out);
      this.#limit(index, state, out);
    }
    for (let j = 0; j < this.variables; j++) out[this.dataRows + j] = z[j];
  }

  jacobian(z: Float64Array, at: Float64Array, out: Float64Array): void {
    const { parameters, readings, boards } = this.bench;
    const n = this.variables;
    const { central } = this;
    out.fill(0);
    const moved = z.slice();
    for (let j = 0; j < n; j++) {
      const { pose } = parameters[j];
      moved[j] = z[j] + STEP;
      const up = stateAt(boards, parameters, moved);
      moved[j] = z[j] - STEP;
      const down = central ? stateAt(boards, parameters, moved) : null;
      moved[j] = z[j];
      for (let index = 0; index < readings.length; index++) {
        if (pose !== null && readings[index].pose !== pose) continue;
        const first = this.rowOf[index];
        const limit = first + readings[index].observed.length;
        // A limit that is certain has no slope: its residual is the square root of something below 1e-19.
        const near = at[limit] > CERTAIN;
        this.#measured(index, up, this.#up);
        if (near) this.#limit(index, up, this.#up);
        if (down !== null) {
          this.#measured(index, down, this.#down);
          if (near) this.#limit(index, down, this.#down);
        }
        for (let row = first; row < limit + (near ? 1 : 0); row++) {
          const against = down === null ? at[row] : this.#down[row];
          out[row * n + j] = (this.#up[row] - against) / (down === null ? STEP : 2 * STEP);
        }
      }
      out[(this.dataRows + j) * n + j] = 1;
    }
  }

  /** The decorrelated residuals of a reading's measured numbers, by forward substitution. */
  #measured(index: number, state: BenchState, out: Float64Array): void {
    const { observed } = this.bench.readings[index];
    const predicted = this.#observedAt(index, state);
    const first = this.rowOf[index];
    const count = observed.length;
    const factor = this.#factors[index];
    for (let a = 0; a < count; a++) {
      let sum = predicted[a] - observed[a].value;
      for (let b = 0; b < a; b++) sum -= factor[a * count + b] * out[first + b];
      out[first + a] = sum / factor[a * count + a];
    }
  }

  #limit(index: number, state: BenchState, out: Float64Array): void {
    const reading = this.bench.readings[index];
    const link = benchElectrical(this.bench.links[reading.pose], reading.pose, state);
    const quick = quickMost(link, benchBoards(state, reading.supplyV));
    const by = this.#corrections;
    const most = quick + (by === null ? 0 : correctionOf(by, index, MOST, state.z));
    out[this.rowOf[index] + reading.observed.length] = oneSidedResidual(limitDistance(reading, most));
  }
}

const CERTAIN = oneSidedResidual(FAR);
