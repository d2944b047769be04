import { choleskyFactor, choleskySolve } from '../../numerics/cholesky.ts';
import type { Bench } from './bench.ts';
import type { Optimum } from './optimum.ts';
import type { ParameterGroup } from './parameter-names.ts';
import { fitProbability, MISFIT_PROBABILITY, observationCount } from './posterior.ts';

/** What a large chi-square suggests, most likely first. */
export interface Suggestion {
  readonly kind: ParameterGroup | 'misreadGap' | 'reading';
  /** How much chi-square falls if this is let go. */
  readonly gain: number;
  readonly sentence: string;
}

export interface Verdict {
  /** Probability of so large a chi-square if model, priors and accuracies are right. */
  readonly probability: number;
  readonly explains: boolean;
  readonly sentence: string;
  readonly suggestions: readonly Suggestion[];
}

const SENTENCES: Readonly<Record<Exclude<ParameterGroup, 'place' | 'coupling'>, string>> = Object.freeze({
  tuning: 'The tuning lies outside its tolerances: check both series capacitors and inductances.',
  resistance: 'There is more (or less) resistance than stated: look at cable, connectors, switches and rectifier.',
  standing: "The boards' own currents differ from what is stated: read the supply current with no load.",
  limit:
    'A limit differs from what is stated: the frequency window, the coil-current or supply-current limit, or the drop-out.',
  target: 'The receiver asks for another rectified voltage than stated: read the rectified voltage.',
  heat: 'The temperatures do not fit the stated kelvin per watt: let the bench settle, and check where the probe sits.',
});

/** A group let go gets priors this many times as wide. */
const LET_GO = 10;
/** Less than this is no pattern. */
const LEAST_GAIN = 6;
const MOST_SUGGESTIONS = 3;

/**
 * Judges a fit, and says what the pattern of the residuals suggests: by how much chi-square would fall, to first order, if the priors of
 * one family of values, or the gap of one place, were widened tenfold, or one reading were left out.
 */
export function diagnose(bench: Bench, optimum: Optimum, robustBeyond: number): Verdict {
  const n = bench.parameters.length;
  const rows = optimum.residuals.length;
  const count = observationCount(bench);
  const probability = fitProbability(bench, optimum.chi2);
  const ratio = Math.sqrt(optimum.dataChi2 / Math.max(1, count));
  const explains = probability >= MISFIT_PROBABILITY;
  if (explains) {
    return {
      probability,
      explains,
      sentence: `The readings agree with the model within ${ratio.toFixed(1)} of their accuracy.`,
      suggestions: [],
    };
  }
  const suggestions: Suggestion[] = [];
  const consider = (kind: Suggestion['kind'], sentence: string, gain: number): void => {
    if (gain >= LEAST_GAIN) suggestions.push({ kind, sentence, gain });
  };
  const freed = (loose: (index: number) => boolean): number => {
    const precision = Float64Array.from({ length: n }, (_, j) => (loose(j) ? 1 / (LET_GO * LET_GO) : 1));
    return gainOf(optimum, n, rows, precision);
  };
  for (const group of Object.keys(SENTENCES) as (keyof typeof SENTENCES)[]) {
    consider(
      group,
      SENTENCES[group],
      freed((j) => bench.parameters[j].group === group),
    );
  }
  consider(
    'coupling',
    'The coupling differs from the computed one at every place: check turns, winding sizes and ferrite, and whether metal is near.',
    freed((j) => bench.parameters[j].group === 'coupling'),
  );
  bench.poses.forEach((pose, index) => {
    consider(
      'misreadGap',
      `The readings at ${pose.name} fit another place better: the gap or offset there may be misread.`,
      freed((j) => bench.parameters[j].pose === index),
    );
  });
  readingChi2(bench, optimum).forEach((chi2, at) => {
    const { index, observed } = bench.readings[at];
    // What one reading may be off by without standing out: its count plus three times its spread.
    if (chi2 > observed.length + 1 + 4 * Math.sqrt(2 * (observed.length + 1)))
      consider('reading', `Reading ${index + 1} stands out: read it again, or look for a slip of the pen.`, chi2);
  });
  suggestions.sort((a, b) => b.gain - a.gain);
  const found = suggestions.slice(0, MOST_SUGGESTIONS);
  const tail = found.length === 0 ? ' No single cause explains the pattern.' : '';
  const robust = Number.isFinite(robustBeyond) ? ' (single numbers far off count less)' : '';
  return {
    probability,
    explains,
    sentence: `The model cannot explain these readings within their accuracy: they are ${ratio.toFixed(1)} times as far off as they should be${robust}.${tail}`,
    suggestions: found,
  };
}

/** Chi-square of each reading's own rows. */
export function readingChi2(bench: Bench, optimum: Optimum): number[] {
  let row = 0;
  return bench.readings.map(({ observed }) => {
    let sum = 0;
    for (let k = 0; k <= observed.length; k++, row++) sum += optimum.residuals[row] ** 2;
    return sum;
  });
}

/** First-order fall of chi-square when the priors' precision changes: quadratic model about the optimum. */
function gainOf(optimum: Optimum, n: number, rows: number, precision: Float64Array): number {
  const matrix = new Float64Array(n * n);
  const gradient = new Float64Array(n);
  for (let row = 0; row < rows; row++) {
    for (let a = 0; a < n; a++) {
      const by = optimum.jacobian[row * n + a];
      if (by === 0) continue;
      gradient[a] += by * optimum.residuals[row];
      for (let b = 0; b <= a; b++) matrix[a * n + b] += by * optimum.jacobian[row * n + b];
    }
  }
  let released = 0;
  for (let a = 0; a < n; a++) {
    matrix[a * n + a] += precision[a];
    gradient[a] += precision[a] * optimum.z[a];
    released += (1 - precision[a]) * optimum.z[a] ** 2;
  }
  if (!choleskyFactor(matrix, n)) return 0;
  const step = gradient.slice();
  choleskySolve(matrix, n, step);
  let fall = 0;
  for (let a = 0; a < n; a++) fall += step[a] * gradient[a];
  return fall + released;
}
