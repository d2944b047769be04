import type { HoldReport } from '../analysis/hold/hold-report.ts';
import type { AidName } from '../analysis/hold/lottery-report.ts';
import type { ClearanceBand } from '../analysis/hold/recess-report.ts';
import { shareText } from '../analysis/hold/share-text.ts';
import type { OffsetMap } from '../analysis/types.ts';
import { formatQuantity } from '../units/format.ts';
import { type AnswerSpan, plainSpan } from './answer-line.ts';

const NBSP = '\u00a0';
/** An en dash at which no line breaks. */
const RANGE = '\u2060\u2013\u2060';

const share = (value: number): string => shareText(value, NBSP);
const strong = (text: string): AnswerSpan => ({ text, tone: 'strong' });
const bad = (text: string): AnswerSpan => ({ text, tone: 'bad' });

export const mm = (value: number, digits = 1): string => `${value.toFixed(digits)}${NBSP}mm`;
export const newton = (value: number): string => formatQuantity(value, 'N', { space: NBSP, digits: 2 });
/** A whole number with a true minus sign. */
const whole = (value: number): string => `${value <= -0.5 ? '\u2212' : ''}${Math.abs(Math.round(value))}`;
const percent = (value: number): string => `${whole(value)}${NBSP}%`;

/** `99 % (98–99)`, the interval in grey. */
function shareSpans(value: number, low: number, high: number): AnswerSpan[] {
  const bare = (end: number): string => share(end).replace(`${NBSP}%`, '');
  return [strong(share(value)), { text: ` (${bare(low)}${RANGE}${bare(high)})`, tone: 'uncertain' }];
}

/** What the design has: nothing, a recess, magnets or both. */
export function aidOf(holding: { readonly recess: unknown; readonly magnets: unknown }): AidName {
  if (holding.recess) return holding.magnets ? 'both' : 'recess';
  return holding.magnets ? 'magnets' : 'nothing';
}

/**
 * What keeps it in place, and how often that works: the answer of Hold.
 * @param map of Place; says what it can while there is no report yet
 */
export function holdAnswer(report: HoldReport | null, aid: AidName, map: OffsetMap | null = null): AnswerSpan[] {
  if (!report) return beforeReport(map);
  const sentences: AnswerSpan[][] = [];
  if (aid === 'recess' || aid === 'both') sentences.push(recessSpans(report));
  if (aid === 'magnets' || aid === 'both') sentences.push(magnetSpans(report));
  const chance = chanceOf(report, aid);
  if (chance)
    sentences.push([
      ...shareSpans(chance.probability, chance.wilson.low, chance.wilson.high),
      plainSpan(aid === 'nothing' ? ' of placements work with nothing to hold it.' : ' of casual placements work.'),
    ]);
  if (aid === 'nothing') sentences.push(wouldHelp(report));
  return sentences
    .filter((spans) => spans.length > 0)
    .flatMap((spans, i) => (i === 0 ? spans : [plainSpan(' '), ...spans]));
}

/** How often a placement works with what the design has. */
function chanceOf({ lottery }: HoldReport, aid: AidName) {
  return lottery.byAid.find((entry) => entry.aid === aid)?.answer.all;
}

function beforeReport(map: OffsetMap | null): AnswerSpan[] {
  if (!map || !(map.reachMm.value > 0)) return [plainSpan('Working out what keeps it in place …')];
  return [
    plainSpan('Whatever holds it must keep its centre within '),
    strong(mm(map.reachMm.value)),
    plainSpan(` to have ${percent(map.wantedMarginPercent)} in hand; working out what does …`),
  ];
}

/** ` (none–6.1)` in grey. */
function clearanceSpans(band: ClearanceBand | null): AnswerSpan[] {
  if (!band) return [];
  const end = (value: number | null) => (value === null ? 'none' : value.toFixed(1));
  return [{ text: ` (${end(band.low)}${RANGE}${end(band.high)})`, tone: 'uncertain' }];
}

/** ` (7.9–9.4)`; `anywhere` where an end has no limit. */
function range({ low, high }: { readonly low: number; readonly high: number | null }): string {
  return ` (${low.toFixed(1)}${RANGE}${high === null ? 'anywhere' : high.toFixed(1)})`;
}

function recessSpans({ recess }: HoldReport): AnswerSpan[] {
  const { recommended, asDesigned, wantedMarginPercent: wanted } = recess;
  if (recommended.clearanceMm === null)
    return [
      bad(`No recess keeps ${percent(wanted)} in hand`),
      plainSpan(`: even a snug one leaves ${percent(recommended.directPercent ?? recommended.worst.marginPercent)}.`),
    ];
  const most = recommended.clearanceMm;
  const spans: AnswerSpan[] = [
    plainSpan('Up to '),
    strong(mm(most, 2)),
    ...clearanceSpans(recommended.clearanceBandMm),
    plainSpan(` of clearance keeps ${percent(wanted)} in hand`),
  ];
  if (asDesigned) {
    const left = percent(asDesigned.worst.marginPercent);
    spans.push(plainSpan('; yours leaves '), asDesigned.keepsMargin ? plainSpan(left) : bad(`only ${left}`));
  }
  return [...spans, plainSpan('.')];
}

function magnetSpans({ magnets }: HoldReport): AnswerSpan[] {
  if (!magnets) return [];
  const { holding, spread } = magnets;
  if (holding.pullOffN <= 0) return [bad('The magnets push it off.')];
  if (holding.restBandMm === null)
    return [
      plainSpan(`The magnets hold with ${newton(holding.pullN)} but `),
      bad('do not bring it home'),
      plainSpan(' against friction.'),
    ];
  const spans: AnswerSpan[] = [
    plainSpan('Magnets bring it home from '),
    strong(mm(holding.captureRadiusMm)),
    { text: range(spread.captureMm), tone: 'uncertain' },
  ];
  if (magnets.restBandIsSafe === false)
    spans.push(plainSpan(' to within '), strong(mm(holding.restBandMm)), plainSpan(', '), bad('not all of it safe'));
  return [...spans, plainSpan('.')];
}

function wouldHelp({ recess, lottery }: HoldReport): AnswerSpan[] {
  const most = recess.recommended.clearanceMm;
  if (most === null) return [bad('No recess would keep the wanted margin.')];
  const chance = lottery.byAid.find((entry) => entry.aid === 'recess')?.answer.all;
  return [
    plainSpan(`A recess of ${mm(most, 2)} clearance would make it `),
    strong(chance ? share(chance.probability) : 'sure'),
    plainSpan('.'),
  ];
}

/** Where it comes to rest, what it would be without help, where it runs out first, and what the stack may be. */
export function holdWhy(report: HoldReport | null, aid: AidName, complete: boolean): string {
  if (!report) return '';
  const { recess, stack, magnets } = report;
  const { recommended } = recess;
  const parts: string[] = [];
  const restMm = magnets?.holding.restBandMm;
  if (magnets && restMm != null && (aid === 'magnets' || aid === 'both'))
    parts.push(
      `The magnets leave it within ${mm(restMm)}${magnets.spread.restMm ? range(magnets.spread.restMm) : ''} of home.`,
    );
  const free = chanceOf(report, 'nothing');
  if (free && aid !== 'nothing') parts.push(`With nothing to hold it ${share(free.probability)} would work.`);
  if (recommended.clearanceMm !== null) {
    const margin = recommended.directPercent ?? recommended.worst.marginPercent;
    const how = recommended.directPercent === null ? 'by the maps' : 'solved directly';
    const band = recommended.band
      ? `; the model’s own band there is ${whole(recommended.band.low)} to ${percent(recommended.band.high)}`
      : '';
    parts.push(`Runs out first at the ${recommended.worst.name}: ${margin.toFixed(1)}${NBSP}% ${how}${band}.`);
  }
  const { limits, thickness } = stack;
  if (limits?.thickestMm != null && limits.thinnestMm != null) {
    const thin = limits.thinnestIsSearchEnd ? `${mm(limits.thinnestMm)} or less` : mm(limits.thinnestMm);
    const thick = limits.thickestIsSearchEnd ? `${mm(limits.thickestMm)} or more` : mm(limits.thickestMm);
    const spread = thickness
      ? `; tolerances take it from ${mm(thickness.worst.thinnestMm)} to ${mm(thickness.worst.thickestMm)}`
      : '';
    parts.push(`The stack may be ${thin} to ${thick}${spread}.`);
  } else if (limits) parts.push('The design’s own gap does not keep the wanted margin.');
  if (!complete) parts.push('First look; direct solutions and ferrite follow.');
  return parts.join(' ');
}
