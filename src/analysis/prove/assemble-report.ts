import type { Design } from '../../design/types.ts';
import { normalProbability } from '../../numerics/normal-distribution.ts';
import { fitAnswer, fixesSentence } from './answer-words.ts';
import type { Bench } from './bench.ts';
import type { BenchLink } from './bench-links.ts';
import { limitDistance } from './bench-problem.ts';
import type { PairFacts } from './coil-facts.ts';
import type { Consequence } from './consequence.ts';
import { diagnose } from './diagnose.ts';
import type { EfficiencyCurve } from './efficiency-curve.ts';
import { type FitParameter, TWO_SIDED_95, valueAt } from './fit-parameters.ts';
import type { FitReport, FittedValue, OptimumReport, ReadingResult } from './fit-report.ts';
import { identify } from './identify.ts';
import { LEFT_OUT_PROBABILITY, leaveOneOut } from './leave-one-out.ts';
import type { NextReading } from './next-reading.ts';
import type { KeptOptimum } from './optima.ts';
import type { FitOptions } from './optimum.ts';
import { observationCount } from './posterior.ts';
import { readingFacts } from './reading-checks.ts';
import { takeOverOf } from './taken-over.ts';

/** Width left below which the readings decided, and above which the prior did. */
const BY_READINGS = 0.5;
const BY_PRIOR = 0.85;

/** The `z` of one value below which a share of the probability of all optima lies. */
function mixtureQuantile(kept: readonly KeptOptimum[], j: number, share: number): number {
  let low = Math.min(...kept.map(({ optimum, posterior }) => optimum.z[j] - 6 * posterior.sd[j]));
  let high = Math.max(...kept.map(({ optimum, posterior }) => optimum.z[j] + 6 * posterior.sd[j]));
  for (let k = 0; k < 50; k++) {
    const middle = (low + high) / 2;
    const below = kept.reduce(
      (sum, { optimum, posterior, weight }) =>
        sum + weight * normalProbability((middle - optimum.z[j]) / posterior.sd[j]),
      0,
    );
    if (below < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function fittedValues(bench: Bench, kept: readonly KeptOptimum[]): FittedValue[] {
  const best = kept[0];
  return bench.parameters.map((parameter, j): FittedValue => {
    const low = mixtureQuantile(kept, j, 0.025);
    const high = mixtureQuantile(kept, j, 0.975);
    const shrink = (high - low) / (2 * TWO_SIDED_95);
    const at = (z: number) => valueAt(parameter, z);
    return {
      id: parameter.id,
      name: parameter.name,
      group: parameter.group,
      path: parameter.path,
      unit: parameter.unit,
      prior: { value: parameter.prior, low: at(-TWO_SIDED_95), high: at(TWO_SIDED_95) },
      because: parameter.because,
      fitted: { value: at(best.optimum.z[j]), low: at(low), high: at(high) },
      shrink,
      pull: best.optimum.z[j],
      decidedBy: shrink < BY_READINGS ? 'readings' : shrink > BY_PRIOR ? 'prior' : 'both',
    };
  });
}

function readingResults(design: Design, bench: Bench, best: KeptOptimum): ReadingResult[] {
  const left = leaveOneOut(bench, best.optimum, best.posterior);
  const used = new Map(bench.readings.map((reading, at) => [reading.index, at]));
  return design.readings.map((document, reading): ReadingResult => {
    const { flags } = readingFacts(design.meters, document);
    const at = used.get(reading);
    if (at === undefined)
      return {
        reading,
        regulated: document.regulated,
        residuals: [],
        maxOutputA: null,
        limitDistance: null,
        leftOut: Number.NaN,
        flags,
      };
    const own = bench.readings[at];
    const prediction = best.optimum.predictions[at];
    const sigmas = best.optimum.sigmas[at];
    const most = Number.isFinite(prediction.maxOutputA) ? prediction.maxOutputA : null;
    return {
      reading,
      regulated: own.regulated,
      residuals: own.observed.map(({ quantity, value }, place) => ({
        quantity,
        measured: value,
        predicted: prediction[quantity],
        sigma: sigmas[place],
        distance: (value - prediction[quantity]) / sigmas[place],
      })),
      maxOutputA: most,
      limitDistance: most === null ? null : limitDistance(own, most),
      leftOut: left[at].distance,
      flags:
        left[at].probability < LEFT_OUT_PROBABILITY
          ? [...flags, 'does not fit what the other readings foretell']
          : flags,
    };
  });
}

function optimumReports(parameters: readonly FitParameter[], kept: readonly KeptOptimum[]): OptimumReport[] {
  return kept.map(({ optimum, starts, weight }) => ({
    chi2: optimum.chi2,
    weight,
    starts,
    converged: optimum.converged,
    values: parameters.map((parameter, j) => ({ name: parameter.name, value: valueAt(parameter, optimum.z[j]) })),
  }));
}

/** Puts the answer of a fit together. */
export function assembleReport(
  design: Design,
  bench: Bench,
  options: FitOptions,
  kept: readonly KeptOptimum[],
  consequence: Consequence,
  curves: readonly EfficiencyCurve[],
  next: readonly NextReading[],
  own: { readonly home: BenchLink; readonly facts: PairFacts },
): FitReport {
  const best = kept[0];
  const { optimum } = best;
  const verdict = diagnose(bench, optimum, options.robustBeyond);
  const identification = identify(bench.parameters, optimum, best.posterior);
  const parameters = fittedValues(bench, kept);
  const observations = observationCount(bench);
  const agreement = Math.sqrt(optimum.dataChi2 / Math.max(1, observations));
  const answer = fitAnswer({ explains: verdict.explains, agreement, consequence });
  const notes: string[] = [];
  const unused = design.readings.length - bench.readings.length;
  if (unused > 0)
    notes.push(
      `${unused} of ${design.readings.length} readings cannot be used: supply voltage or output current is missing.`,
    );
  if (bench.readings.some(({ regulated }) => !regulated))
    notes.push(
      'Of a collapsed reading only the limit counts: the largest current lies below its load. Its supply current depends on how the load behaves.',
    );
  if (kept.length > 1)
    notes.push(
      `${kept.length} sets of values explain the readings about equally well; the bands weigh each by its probability.`,
    );
  if (!optimum.converged) notes.push('The last stage did not settle: take the values with care.');
  if (best.posterior.widened > 1)
    notes.push(
      `The bands are widened ${best.posterior.widened.toFixed(1)} times because the readings do not fit within their accuracy.`,
    );
  return {
    title: design.title,
    sentence: `${answer.agreement}${answer.reach}`,
    fixes: fixesSentence(parameters, identification.combinations),
    converged: optimum.converged,
    readingsUsed: bench.readings.length,
    observations,
    chi2: optimum.chi2,
    dataChi2: optimum.dataChi2,
    probability: verdict.probability,
    agreement,
    explains: verdict.explains,
    verdict: verdict.sentence,
    suggestions: verdict.suggestions,
    parameters,
    combinations: identification.combinations,
    singularValues: identification.singularValues,
    optima: optimumReports(bench.parameters, kept),
    readings: readingResults(design, bench, best),
    next,
    consequence,
    curves,
    ensemble: {
      parameters: bench.parameters,
      optima: kept.map(({ optimum: { z }, posterior: { factor }, weight }) => ({ z, factor, weight })),
    },
    takeOver: takeOverOf(design, bench, parameters, optimum.z, own.home, own.facts),
    notes,
  };
}
