import { formatQuantity } from '../../units/format.ts';
import type { Uncertain } from '../types.ts';
import type { Consequence } from './consequence.ts';
import type { FitReport, FittedValue } from './fit-report.ts';

/** The answer of a fit in two parts, which follow each other: whether readings and model agree, and what that does to the reach. */
export interface FitAnswer {
  readonly agreement: string;
  readonly reach: string;
}

const mm = (value: number): string => (Math.round(10 * value) / 10).toFixed(1).replace(/\.0$/, '');

/** `2.5–5.3 mm`, `at least 22 mm`, or `0 mm` where the wanted margin is nowhere. */
function span({ low, high }: Uncertain, endMm: number): string {
  const end = endMm - 1e-6;
  if (low >= end) return `at least ${mm(endMm)}\u00a0mm`;
  if (high >= end) return `${mm(low)} to at least ${mm(endMm)}\u00a0mm`;
  return mm(low) === mm(high) ? `${mm(high)}\u00a0mm` : `${mm(low)}–${mm(high)}\u00a0mm`;
}

/** A reach narrows or widens where its band changes by more than this share: less is within the draws' own spread. */
const CHANGED = 0.1;
/** Ends closer than this are the same place, mm. */
const SAME_MM = 0.5;

/** What becomes of the reach, after the word that joins it to the agreement. */
function reachWords({ reachMm: { before, after }, reachEndMm }: Consequence): readonly [string, string] {
  if (mm(after.high) === '0') return [', but ', 'by them the wanted margin holds nowhere, not even centred.'];
  const [was, is] = [before.high - before.low, after.high - after.low];
  const [from, to] = [span(before, reachEndMm), span(after, reachEndMm)];
  if (is < (1 - CHANGED) * was) return [', and ', `the reach narrows from ${from} to ${to}.`];
  if (is > (1 + CHANGED) * was) return [', but ', `the reach widens from ${from} to ${to}.`];
  if (before.low >= reachEndMm - 1e-6) return ['; ', `the reach stays ${to}.`];
  const verb = Math.abs(after.low - before.low) < SAME_MM ? `stays ${to}` : `moves from ${from} to ${to}`;
  return ['; ', `the reach ${verb}, no better known than before.`];
}

/**
 * What somebody who took readings wants to know first. Where the model does not explain them, the reach is told with the
 * advice not to build on it.
 */
export function fitAnswer(of: Pick<FitReport, 'explains' | 'agreement' | 'consequence'>): FitAnswer {
  const { explains, agreement, consequence } = of;
  if (explains) {
    const [join, reach] = reachWords(consequence);
    return { agreement: `The readings agree with the model${join}`, reach };
  }
  const { reachMm, reachEndMm } = consequence;
  return {
    agreement: `The model does not explain these readings: they are ${agreement.toFixed(1)} times as far off as they should be. `,
    reach: `Do not build on its reach, ${span(reachMm.after, reachEndMm)}, yet.`,
  };
}

/** What the answer rests on, and what the readings fix. */
export function fitRests(
  of: Pick<FitReport, 'readingsUsed' | 'observations' | 'agreement' | 'explains' | 'fixes'>,
): string {
  const { readingsUsed, observations, agreement, explains, fixes } = of;
  const off = explains ? `, off by ${agreement.toFixed(1)} of their accuracy on average` : '';
  return `${readingsUsed === 1 ? 'One reading' : `${readingsUsed} readings`}, ${observations} numbers${off}. ${fixes}`;
}

/** Families worth naming first, because the reach hangs on them. */
const TOLD_FIRST: readonly FittedValue['group'][] = ['tuning', 'coupling', 'resistance', 'target', 'limit', 'standing'];

/** What the readings fix, in one sentence: the value that the reach hangs on most, else how many combinations. */
export function fixesSentence(values: readonly FittedValue[], combinations: FitReport['combinations']): string {
  const rank = (value: FittedValue): number => TOLD_FIRST.indexOf(value.group);
  const [named] = values
    .filter((value) => value.decidedBy === 'readings' && value.path !== null && rank(value) >= 0)
    .filter(({ id }) => id !== 'outputVoltage')
    .sort((a, b) => rank(a) - rank(b) || a.shrink - b.shrink);
  const count = combinations.length;
  const wide = combinations.some(({ parts }) => parts.length > 1);
  if (named !== undefined && (named.group === 'tuning' || !wide)) {
    const { low, high } = named.fitted;
    const number = (value: number, unit: FittedValue['unit']) =>
      formatQuantity(value, unit, { space: '\u00a0', digits: 3, fixedUnit: true }).trim();
    return `They fix the ${named.name} to ${number(low, '1')}–${number(high, named.unit)}.`;
  }
  if (count === 0) return 'They fix nothing better than it was known.';
  return count === 1 ? 'They fix one combination of values.' : `They fix ${count} combinations of values.`;
}
