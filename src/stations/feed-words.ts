import type { FeedReport } from '../analysis/feed/feed-report.ts';
import type { OperatingSpread } from '../analysis/feed/operating-spread.ts';
import { limitWords } from '../analysis/margin/state-sentence.ts';
import type { PoseAnswer } from '../analysis/types.ts';
import type { Demand } from '../design/demand.ts';
import type { QuickAnswer } from '../engine/types.ts';
import { formatGiven, formatQuantity } from '../units/format.ts';
import { type AnswerSpan, amperes, BOUNDLESS, bandAmperes, plainSpan } from './answer-line.ts';

const NBSP = '\u00a0';
const RANGE = '\u2060\u2013\u2060';

const strong = (text: string): AnswerSpan => ({ text, tone: 'strong' });
const bad = (text: string): AnswerSpan => ({ text, tone: 'bad' });
const uncertain = (text: string): AnswerSpan => ({ text, tone: 'uncertain' });

const percent = (value: number): string => `${value < -0.5 ? '\u2212' : ''}${Math.abs(Math.round(value))}${NBSP}%`;
const celsius = (value: number): string => `${Math.round(value)}${NBSP}°C`;

/** `playing and charging`, `a, b and c`. */
export function namesText(names: readonly string[]): string {
  if (names.length < 2) return names[0] ?? 'nothing';
  return `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}

export interface FeedSources {
  readonly demand: Demand;
  readonly pose: PoseAnswer | null;
  readonly quick: QuickAnswer | null;
  readonly report: FeedReport | null;
  readonly spread: OperatingSpread | null;
  /** Nothing in the device is cooler. */
  readonly ambientC: number;
}

/** ` (−21–81)`: the band of a percentage; nothing where both ends print the same. */
function percentBand(low: number, high: number): AnswerSpan[] {
  const [a, b] = [low, high].map((value) => `${value < -0.5 ? '\u2212' : ''}${Math.abs(Math.round(value))}`);
  if (a === b) return [];
  const joint = low < -0.5 || high < -0.5 ? ' to ' : RANGE;
  return [uncertain(` (${a}${joint}${b})`)];
}

function temperatureSpans(pose: PoseAnswer, spread: OperatingSpread | null, ambientC: number): AnswerSpan[] {
  const { receiverC, state } = pose.operatingPoint;
  const low = Math.round(Math.max(Math.min(ambientC, receiverC), receiverC - (spread?.less.receiverC ?? 0)));
  const high = Math.round(receiverC + (spread?.more.receiverC ?? 0));
  const text = celsius(receiverC);
  return [
    plainSpan('; the receiver runs at '),
    state === 'hot' ? bad(text) : strong(text),
    ...(low === high ? [] : [uncertain(` (${low}${RANGE}${high})`)]),
    plainSpan('.'),
  ];
}

/** What becomes of the short peaks. */
function peakSpans(report: FeedReport | null): AnswerSpan[] {
  return (report?.peaks ?? []).flatMap((peak): AnswerSpan[] => {
    const how = `the ${peak.name} peak of ${amperes(peak.demandA)} for ${formatGiven(peak.durationMs, 'ms', NBSP)}`;
    if (peak.shortA <= 0) return [plainSpan(`; ${how} with `), strong(percent(peak.marginPercent))];
    const { capacitanceF, verdict } = peak.capacitor;
    const size = formatQuantity(capacitanceF, 'F', { digits: 2, space: NBSP });
    const rest: Readonly<Record<typeof verdict, string>> = {
      none: '',
      ordinary: `: a capacitor of ${size} carries it`,
      bulky: `: it would take a bulky ${size}`,
      absurd: `: an absurd ${size} would have to carry it`,
      impossible: ': no capacitor carries it, its own resistance breaks the dip',
    };
    return [plainSpan('; '), bad(`${how} lacks ${amperes(peak.shortA)}`), plainSpan(rest[verdict])];
  });
}

/** How much of it is left. */
function inHand(margin: number, demandA: number, mostA: number): string {
  if (demandA <= 0) return `all of its ${amperes(mostA)}`;
  return margin >= BOUNDLESS ? 'more than ten times that' : percent(margin);
}

/** Whether the link carries the load: the answer of Feed. */
export function feedAnswer(from: FeedSources): AnswerSpan[] {
  const { demand, pose, quick, report, spread, ambientC } = from;
  if (!pose) return [plainSpan('Working out what the link carries'), uncertain(' …')];
  const names = namesText(demand.demandNames);
  const asked = amperes(demand.demandA);
  const margin = quick?.marginPercent ?? pose.margin.marginPercent;
  const most = quick?.maxOutputA ?? pose.margin.maxOutputA;
  const { maxOutputBand: current, marginBandPercent: share } = pose.margin;
  if (!Number.isFinite(demand.demandA)) {
    return [
      bad('No link can carry this'),
      plainSpan(': a converter in the chain collapses before it gives its power.'),
    ];
  }
  if (margin < 0) {
    return [
      plainSpan('The link '),
      bad(`does not carry ${names}, ${asked}`),
      plainSpan(': '),
      strong(`${amperes(most)} at most`),
      ...(quick ? [] : bandAmperes(current.low, current.high)),
      ...peakSpans(report),
      plainSpan('.'),
    ];
  }
  return [
    plainSpan('The link carries '),
    strong(`${names}, ${asked}`),
    plainSpan(', with '),
    strong(inHand(margin, demand.demandA, most)),
    ...(quick ? [] : percentBand(share.low, share.high)),
    plainSpan(' in hand'),
    ...peakSpans(report),
    ...temperatureSpans(pose, spread, ambientC),
  ];
}

/** The line beneath: efficiency, what gives out first, and what is not in it. */
export function feedWhy({ pose, spread }: FeedSources): string {
  if (!pose) return '';
  const { efficiency, losses, outputV, outputA } = pose.operatingPoint;
  const supplyW = outputV * outputA + Object.values(losses).reduce((sum, watts) => sum + watts, 0);
  // Where an end of a tolerance stops the link, changes add up to more than there is to lose.
  const [from, to] = [Math.max(0, supplyW - (spread?.less.supplyW ?? 0)), supplyW + (spread?.more.supplyW ?? 0)].map(
    (watts) => watts.toFixed(2),
  );
  const watts = `${supplyW.toFixed(2)}${NBSP}W${from === to ? '' : ` (${from}${RANGE}${to})`}`;
  const low = Math.round(100 * Math.max(0, efficiency - (spread?.less.efficiency ?? 0)));
  const high = Math.round(100 * Math.min(1, efficiency + (spread?.more.efficiency ?? 0)));
  const band = low === high ? '' : ` (${low}${RANGE}${high})`;
  const tight = pose.margin.marginPercent >= 0 && pose.margin.marginBandPercent.low < 0;
  const warned = tight ? ' Within its tolerances it may fall short: see what moves the margin.' : '';
  return `It takes ${watts} from the supply, ${percent(100 * efficiency)}${band} of it arrives. What gives out first is ${limitWords(pose.margin.limitedBy)}.${warned} Not in it: what the boards negotiate, and how fast their control follows a step.`;
}
