import { limitWords } from '../analysis/margin/state-sentence.ts';
import type { LineSweep, OffsetMap, PoseAnswer } from '../analysis/types.ts';
import type { Demand } from '../design/demand.ts';
import type { Design } from '../design/types.ts';
import type { QuickAnswer } from '../engine/types.ts';
import { formatQuantity } from '../units/format.ts';

/** A stretch of the answer line. `uncertain` is set smaller and grey, `bad` in the colour of bad news. */
export interface AnswerSpan {
  readonly text: string;
  readonly tone: 'plain' | 'strong' | 'uncertain' | 'bad';
}

/** A margin that stands for one without bound, %: see `marginPercent`. */
export const BOUNDLESS = 999;

/** Nobody measures finer: digits beyond would say more of the arithmetic than of the coils. */
const FINEST = 1e-4;

/** The error that is printed beside an inductance: at least one part in ten thousand. */
export const shownError = (value: number, error: number): number => Math.max(error, FINEST * Math.abs(value));

const NBSP = '\u00a0';
/** An en dash at which no line breaks. */
const RANGE = '\u2060\u2013\u2060';

export const plainSpan = (text: string): AnswerSpan => ({ text, tone: 'plain' });
const strong = (text: string): AnswerSpan => ({ text, tone: 'strong' });
const bad = (text: string): AnswerSpan => ({ text, tone: 'bad' });

/** Length for a sentence: tenths of a millimetre, which is as fine as anyone places a device. */
function mm(value: number): string {
  return `${Math.max(0, value).toFixed(1)}${NBSP}mm`;
}

export function amperes(value: number): string {
  return formatQuantity(value, 'A', { digits: value < 1 ? 2 : 3, space: NBSP, fixedUnit: true });
}

/** A coupling factor: three decimals, with a true minus and none before nought. */
export function factor(k: number): string {
  const text = Math.abs(k).toFixed(3);
  return k < 0 && Number(text) > 0 ? `\u2212${text}` : text;
}

function percent(value: number): string {
  return `${Math.round(value)}${NBSP}%`;
}

/** ` (6.4–7.8)`: nothing where the band is no wider than what is printed anyway. */
function bandMm(low: number, high: number): AnswerSpan[] {
  if (!(high - low >= 0.1)) return [];
  return [{ text: ` (${low.toFixed(1)}${RANGE}${high.toFixed(1)})`, tone: 'uncertain' }];
}

/** ` (0.90–1.12)`, as many digits as the current itself; nothing where the ends print alike. */
export function bandAmperes(low: number, high: number): AnswerSpan[] {
  const bare = (value: number): string => amperes(value).replace(`${NBSP}A`, '');
  if (bare(low) === bare(high)) return [];
  return [{ text: ` (${bare(low)}${RANGE}${bare(high)})`, tone: 'uncertain' }];
}

/** The text of an answer without its tones: for screen readers and tests. */
export function spansText(spans: readonly AnswerSpan[]): string {
  return spans.map((span) => span.text).join('');
}

/** Largest gap up to which the link holds its demand, mm; null where it never does, Infinity where the sweep does not end. */
export function gapReachMm(sweep: LineSweep, marginPercent = 0): number | null {
  const { at, marginPercent: margin } = sweep;
  let last: number | null = null;
  for (let i = 0; i < at.length; i += 1) {
    if (!(margin[i] >= marginPercent)) {
      if (last === null) continue;
      const before = margin[i - 1];
      const t = Number.isFinite(margin[i]) ? (before - marginPercent) / (before - margin[i]) : 0;
      return at[i - 1] + t * (at[i] - at[i - 1]);
    }
    last = at[i];
  }
  return last === null ? null : Number.POSITIVE_INFINITY;
}

/** Band of the largest gap: the crossings of the margin's own ends. Open above where the upper one does not cross. */
function apartBand(sweep: LineSweep, wanted: number): AnswerSpan[] {
  const end = (marginPercent: Float64Array): number => gapReachMm({ ...sweep, marginPercent }, wanted) ?? 0;
  const low = end(sweep.marginLowPercent);
  const high = end(sweep.marginHighPercent);
  if (Number.isFinite(high)) return bandMm(low, high);
  return Number.isFinite(low) ? [{ text: ` (${low.toFixed(1)} or more)`, tone: 'uncertain' }] : [];
}

function peakSpans(map: OffsetMap, demand: Demand): AnswerSpan[] {
  const spans: AnswerSpan[] = [];
  for (const peak of map.peakReachMm) {
    const asked = demand.peaks.find((entry) => entry.name === peak.name);
    const what = asked ? `${peak.name} needs ${amperes(asked.currentA)}` : peak.name;
    if (peak.reachMm <= 0) spans.push(plainSpan(` ${capital(what)}: `), bad('not even centred'), plainSpan('.'));
    else if (peak.reachMm < map.reachMm.value - 0.05) {
      spans.push(plainSpan(` ${capital(what)}: `), bad(`only ${mm(peak.reachMm)}`), plainSpan('.'));
    }
  }
  return spans;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

export interface PlaceSources {
  readonly design: Design;
  readonly demand: Demand;
  readonly map: OffsetMap | null;
  readonly pose: PoseAnswer | null;
  /** Before the first full answer, and while dragging. */
  readonly quick: QuickAnswer | null;
  /** Margin against gap where the receiver is centred; null: not asked or not there yet. */
  readonly gapCentred: LineSweep | null;
}

/** How far off centre, and how far apart: the answer of Place. */
export function placeAnswer(from: PlaceSources): AnswerSpan[] {
  const { map, demand, design } = from;
  if (!map) return beforeMap(from);
  const asked = amperes(map.demandA);
  const gap = mm(map.gapMm);
  const wanted = map.wantedMarginPercent;
  const inHand = wanted > 0 && map.demandA > 0 ? ` with ${percent(wanted)} in hand` : '';
  const reach = map.reachMm;
  if (map.innerLimitMm > 0) {
    return [
      plainSpan('Safe only from '),
      bad(mm(map.innerLimitMm)),
      plainSpan(` off centre outwards at a ${gap} gap: nearer the middle the receiver gets more than it can take.`),
      ...peakSpans(map, demand),
    ];
  }
  if (reach.value <= 0) return cannotHold(from, map, asked, gap);
  const spans: AnswerSpan[] = [
    plainSpan('Holds '),
    strong(asked),
    plainSpan(`${inHand} up to `),
    strong(mm(reach.value)),
    ...bandMm(reach.low, reach.high),
    plainSpan(' off centre'),
  ];
  const apart = from.gapCentred ? gapReachMm(from.gapCentred, wanted) : null;
  if (apart !== null && apart >= map.gapMm) {
    const far = Number.isFinite(apart) ? mm(apart) : `more than ${mm(from.gapCentred?.at.at(-1) ?? 0)}`;
    spans.push(plainSpan(', or centred up to '), strong(far));
    if (from.gapCentred) spans.push(...apartBand(from.gapCentred, wanted));
    spans.push(plainSpan(' apart'));
  }
  spans.push(plainSpan('.'));
  if (map.wakeReachMm < map.holdReachMm - 0.05 && map.wakeReachMm < reach.value) {
    spans.push(
      map.wakeReachMm <= 0
        ? bad(' It does not wake there, not even centred.')
        : bad(` It wakes only within ${mm(map.wakeReachMm)}.`),
    );
  }
  spans.push(...peakSpans(map, demand));
  const off = Math.hypot(design.placement.offsetXMm, design.placement.offsetYMm);
  if (off > 0.05 && from.pose && from.pose.margin.marginPercent < 0) {
    spans.push(bad(` Where it lies now, ${mm(off)} off, the power collapses.`));
  }
  return spans;
}

/** What can be said of the place it lies in while the map is still being made. */
function beforeMap({ design, demand, pose, quick }: PlaceSources): AnswerSpan[] {
  const margin = quick?.marginPercent ?? pose?.margin.marginPercent;
  const current = quick?.maxOutputA ?? pose?.margin.maxOutputA;
  const working: AnswerSpan[] = [
    plainSpan(margin === undefined ? 'Working out how far off centre it may sit' : ' How far off centre'),
    { text: ' …', tone: 'uncertain' },
  ];
  if (margin === undefined || current === undefined) return working;
  const { offsetXMm, offsetYMm } = design.placement;
  const where = Math.hypot(offsetXMm, offsetYMm) < 0.05 ? 'centred' : 'where it lies';
  const asked = amperes(demand.demandA);
  if (margin >= 0) {
    return [plainSpan('Holds '), strong(asked), plainSpan(` ${where}, ${percent(margin)} in hand.`), ...working];
  }
  return [
    bad(`Does not hold ${asked}`),
    plainSpan(` ${where}: `),
    strong(`${amperes(current)} at most`),
    plainSpan('.'),
    ...working,
  ];
}

function cannotHold(from: PlaceSources, map: OffsetMap, asked: string, gap: string): AnswerSpan[] {
  const { offsetXMm, offsetYMm } = from.design.placement;
  // Where it lies centred the full answer is at hand, with its band; the map has the batch circuit's.
  const here = Math.hypot(offsetXMm, offsetYMm) < 0.05 && from.quick === null ? from.pose?.margin : undefined;
  const middle = here?.maxOutputA ?? centreValue(map, map.maxOutputA);
  const margin = centreValue(map, map.marginPercent);
  if (margin >= 0 && margin < map.wantedMarginPercent) {
    return [
      plainSpan('Holds '),
      strong(asked),
      plainSpan(' centred at '),
      strong(gap),
      plainSpan(', but with '),
      bad(`only ${percent(margin)} in hand`),
      plainSpan(` of the ${percent(map.wantedMarginPercent)} wanted.`),
      ...peakSpans(map, from.demand),
    ];
  }
  if (margin >= map.wantedMarginPercent && map.wakeReachMm <= 0) {
    return [
      plainSpan('Would hold '),
      strong(asked),
      plainSpan(`, but at a ${gap} gap it `),
      bad('does not wake'),
      plainSpan('.'),
    ];
  }
  if (margin >= map.wantedMarginPercent) {
    return [
      plainSpan('Would carry '),
      strong(asked),
      plainSpan(` at a ${gap} gap, but `),
      bad('not safely, not even centred'),
      plainSpan(': too hot, overfed or stopped.'),
    ];
  }
  return [
    bad(`Does not hold ${asked}`),
    plainSpan(', not even centred: '),
    strong(`${amperes(middle)} at most`),
    ...(here ? bandAmperes(here.maxOutputBand.low, here.maxOutputBand.high) : []),
    plainSpan(` at a ${gap} gap.`),
  ];
}

function centreValue(map: OffsetMap, values: Float64Array): number {
  const nearest = (axis: Float64Array): number => {
    let best = 0;
    for (let i = 1; i < axis.length; i += 1) if (Math.abs(axis[i]) < Math.abs(axis[best])) best = i;
    return best;
  };
  return values[nearest(map.yMm) * map.xMm.length + nearest(map.xMm)];
}

function direction(deg: number): string {
  const turned = ((deg % 360) + 360) % 360;
  const names = [
    'towards +x',
    'between +x and +y',
    'towards +y',
    'between +y and −x',
    'towards −x',
    'between −x and −y',
    'towards −y',
    'between −y and +x',
  ];
  return names[Math.round(turned / 45) % 8];
}

/** The line beneath: what gives out first and in which direction. */
export function placeWhy(from: PlaceSources): string {
  const { map, pose } = from;
  if (!map || !pose) return '';
  const several = pose.operatingPoint.severalPoints
    ? ' More than one operating point fits here: Feed explains it.'
    : '';
  const first = `What gives out first is ${limitWords(pose.margin.limitedBy)}.${several}`;
  if (map.reachMm.value <= 0) return first;
  return `Tightest ${direction(map.tightestDeg)}. ${first}`;
}

/** Beside the ring: margin and current where the receiver lies, quick while it is dragged. */
export function hereText(pose: PoseAnswer | null, quick: QuickAnswer | null): string {
  const margin = quick?.marginPercent ?? pose?.margin.marginPercent;
  const current = quick?.maxOutputA ?? pose?.margin.maxOutputA;
  if (margin === undefined || current === undefined || !Number.isFinite(margin)) return '';
  if (margin >= BOUNDLESS) return amperes(current);
  const sign = margin > 0.5 ? '+' : margin < -0.5 ? '\u2212' : '';
  return `${sign}${percent(Math.abs(margin))} · ${amperes(current)}`;
}

export interface PairSources {
  readonly demand: Demand;
  readonly pose: PoseAnswer | null;
  readonly quick: QuickAnswer | null;
}

/** `, 24 % more than the 0.78 A asked`. */
function beyondAsked(margin: number, demandA: number): string {
  if (demandA <= 0) return '; nothing is asked of it';
  const more = margin >= BOUNDLESS ? 'more than ten times' : `${percent(margin)} more than`;
  return `, ${more} the ${amperes(demandA)} asked`;
}

/** Whether this coil on that one is worth it: the answer of Pair. */
export function pairAnswer(from: PairSources): AnswerSpan[] {
  const { pose, quick, demand } = from;
  if (!pose) return [plainSpan('Working out what the pair can do'), { text: ' …', tone: 'uncertain' }];
  const k = quick?.coupling ?? pose.link.coupling;
  const band = quick ? null : pose.margin.maxOutputBand;
  const drawn = band ? bandAmperes(band.low, band.high) : [];
  const margin = quick?.marginPercent ?? pose.margin.marginPercent;
  const current = quick?.maxOutputA ?? pose.margin.maxOutputA;
  const low = pose.link.couplingBand.low;
  const high = pose.link.couplingBand.high;
  const spans: AnswerSpan[] = [plainSpan('Couples at '), strong(`k${NBSP}${factor(k)}`)];
  if (!quick) spans.push({ text: ` (${factor(low)}${RANGE}${factor(high)})`, tone: 'uncertain' });
  if (!quick) {
    spans.push(
      plainSpan(': at best '),
      strong(percent(100 * pose.link.linkEfficiencyLimit)),
      plainSpan(' gets across'),
    );
  }
  spans.push(plainSpan(', and '));
  if (margin >= 0) {
    spans.push(
      strong(amperes(current)),
      ...drawn,
      plainSpan(` can be drawn here${beyondAsked(margin, demand.demandA)}.`),
    );
  } else {
    spans.push(
      bad(`only ${amperes(current)}`),
      ...drawn,
      plainSpan(' can be drawn here, '),
      bad(`${percent(-margin)} short`),
      plainSpan(` of the ${amperes(demand.demandA)} asked.`),
    );
  }
  return spans;
}

/** The line beneath: what it rests on. */
export function pairWhy(from: PairSources): string {
  const link = from.pose?.link;
  if (!link) return '';
  const error = shownError(link.mutualInductanceH, link.errors.mutualInductanceH);
  const m = formatQuantity(link.mutualInductanceH, 'H', { error, space: NBSP });
  const bare = factor(link.air.coupling);
  const f = formatQuantity(link.atFrequencyHz, 'Hz', { space: NBSP });
  const { margin } = from.pose as PoseAnswer;
  const short = margin.marginPercent < 0 ? ` What gives out first is ${limitWords(margin.limitedBy)}.` : '';
  return `Mutual inductance ${m} at ${f}. Without ferrite and metal it would be k ${bare}.${short}`;
}
