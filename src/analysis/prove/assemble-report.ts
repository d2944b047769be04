import type { Design } from '../../design/types.ts';
import { normalProbability } from '../../numerics/normal-distribution.ts';
import { formatQuantity } from '../../units/format.ts';
import type { Uncertain } from '../types.ts';
import type { Bench } from './bench.ts';
import type { BenchLink } from './bench-links.ts';
import { limitDistance } from './bench-problem.ts';
import type { PairFacts } from './coil-facts.ts';
import type { Consequence } from './consequence.ts';
import { diagnose, type Verdict } from './diagnose.ts';
import type { EfficiencyCurve } from './efficiency-curve.ts';
import { type FitParameter, TWO_SIDED_95, valueAt } from './fit-parameters.ts';
import type { FitReport, FittedValue, OptimumReport, ReadingResult } from './fit-report.ts';
import { type Identification, identify } from './identify.ts';
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

const show = (value: number, unit: FittedValue['unit'], digits = 3): string =>
  formatQuantity(value, unit, { space: '\u00a0', digits, fixedUnit: true });

/** `112 to 118 nF`, `0 to 11 mm` */
function span({ low, high }: Uncertain, unit: FittedValue['unit']): string {
  const bare = (value: number) => formatQuantity(value, '1', { digits: 3, space: '', fixedUnit: true }).trim();
  return `${bare(low)} to ${show(high, unit)}`;
}

const mm = (value: number): string => (Math.round(10 * value) / 10).toFixed(1).replace(/\.0$/, '');

function reachWords({ reachMm, reachEndMm }: Consequence): string {
  const text = ({ low, high }: Uncertain): string => {
    const end = high >= reachEndMm - 1e-6;
    if (low >= reachEndMm - 1e-6) return `at least ${mm(reachEndMm)} mm`;
    return `${mm(low)} to ${end ? 'at least ' : ''}${mm(high)} mm`;
  };
  const before = reachMm.before.high - reachMm.before.low;
  const after = reachMm.after.high - reachMm.after.low;
  const verb = after < 0.9 * before ? 'narrows' : after > 1.1 * before ? 'widens' : 'stays';
  if (verb === 'stays' && Math.abs(reachMm.after.low - reachMm.before.low) < 0.5)
    return `the reach stays ${text(reachMm.after)}`;
  return `the reach ${verb === 'stays' ? 'moves' : verb} from ${text(reachMm.before)} to ${text(reachMm.after)}`;
}

/** Families worth naming first in the answer, because the reach hangs on them. */
const TOLD_FIRST: readonly FittedValue['group'][] = ['tuning', 'coupling', 'resistance', 'target', 'limit', 'standing'];

/** What is worth naming first of what the readings fix. */
function fixedWords(values: readonly FittedValue[], identification: Identification): string {
  const rank = (value: FittedValue): number => TOLD_FIRST.indexOf(value.group);
  const named = values
    .filter((value) => value.decidedBy === 'readings' && value.path !== null && rank(value) >= 0)
    .filter(({ id }) => id !== 'outputVoltage')
    .sort((a, b) => rank(a) - rank(b) || a.shrink - b.shrink);
  const { combinations } = identification;
  const wide =
    combinations.find(({ parts, words }) => parts.length > 1 && words.startsWith('the ')) ??
    combinations.find(({ parts }) => parts.length > 1) ??
    combinations[0];
  if (named.length > 0 && (named[0].group === 'tuning' || wide === undefined))
    return `they fix the ${named[0].name} to ${span(named[0].fitted, named[0].unit)}`;
  if (wide === undefined) return 'they fix nothing better than it was known';
  const count = combinations.length === 1 ? 'one combination' : `${combinations.length} combinations`;
  const words = wide.words.replace(/ \(its .*\)$/, '');
  return combinations.length === 1 ? `they fix ${count}: ${words}` : `they fix ${count}, among them ${words}`;
}

function sentenceOf(
  verdict: Verdict,
  values: readonly FittedValue[],
  found: Identification,
  consequence: Consequence,
): string {
  const rest = `${fixedWords(values, found)}; ${reachWords(consequence)}.`;
  if (verdict.explains) return `${verdict.sentence.replace(/\.$/, '')}; ${rest}`;
  return `${verdict.sentence} With that said, ${rest}`;
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
    sentence: sentenceOf(verdict, parameters, identification, consequence),
    converged: optimum.converged,
    readingsUsed: bench.readings.length,
    observations,
    chi2: optimum.chi2,
    dataChi2: optimum.dataChi2,
    probability: verdict.probability,
    agreement: Math.sqrt(optimum.dataChi2 / Math.max(1, observations)),
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
