import { demandOf } from '../../design/demand.ts';
import type { Design } from '../../design/types.ts';
import { limitWords } from '../margin/state-sentence.ts';
import type { Uncertain } from '../types.ts';
import { difference, reachDifference } from './supply-compare.ts';
import type { GapReach } from './supply-gap.ts';
import type { SupplyCurve, SupplyReport } from './supply-report.ts';

/** How far under one supply, with the wanted margin in hand and waking. */
export interface SupplyReach {
  readonly gap: GapReach;
  /** Radius about the transmitter's axis, mm; 0 where the centre itself is not safe. */
  readonly offsetMm: Uncertain;
  /** The map ends before the reach does. */
  readonly offsetBeyond: boolean;
  readonly wakeOffsetMm: number;
  /** Where the centre is a hole: offset at which the safe region starts; else 0. */
  readonly innerLimitMm: number;
}

/** One supply of the choice; the reach is null while the link model is still being made. */
export interface SupplyOption {
  readonly report: SupplyReport;
  readonly curve: SupplyCurve;
  readonly reach: SupplyReach | null;
}

/** fails: the demand is not carried or it does not wake; weak: carried, but without the wanted margin; enough. */
export type SupplyGrade = 'fails' | 'weak' | 'enough';

export interface SupplyChoice {
  readonly demandA: number;
  readonly wantedMarginPercent: number;
  readonly options: readonly SupplyOption[];
  readonly grades: readonly SupplyGrade[];
  /** The supply to take, V; null where none carries the demand. */
  readonly takeV: number | null;
  /** Which and why, one or two sentences with numbers. */
  readonly sentence: string;
  /** One line for each other supply: what it would do differently. */
  readonly others: readonly string[];
}

const CARRIED: ReadonlySet<string> = new Set(['regulated', 'overfed']);

export function gradeOf(report: SupplyReport, wantedPercent: number): SupplyGrade {
  const { margin, carried } = {
    margin: report.marginPercent.value,
    carried: CARRIED.has(report.atDemand.state) && report.wakes,
  };
  if (!carried || margin < 0) return 'fails';
  if (report.peakMarginPercent !== null && report.peakMarginPercent < 0) return 'fails';
  return margin >= wantedPercent ? 'enough' : 'weak';
}

/**
 * Which supply to take. Carrying the demand, its peaks and the wake comes first, then the wanted margin; among those that
 * do as well, the better efficiency where the difference is clear, then the larger current, then the lower voltage, which
 * overfeeds least. Where no supply has the wanted margin, the current comes before the efficiency. Differences within
 * their bands count as none.
 */
export function supplyChoice(design: Design, options: readonly SupplyOption[]): SupplyChoice {
  const wantedMarginPercent = design.demand.wantedMarginPercent;
  const { demandA } = demandOf(design);
  const grades = options.map(({ report }) => gradeOf(report, wantedMarginPercent));
  const best: SupplyGrade = grades.includes('enough') ? 'enough' : grades.includes('weak') ? 'weak' : 'fails';
  const base = { demandA, wantedMarginPercent, options, grades };
  const ranked = options.filter((_, i) => grades[i] === best).sort((a, b) => prefer(a.report, b.report, best));
  const first = ranked[0];
  if (!first) return { ...base, takeV: null, sentence: 'No supply was given.', others: [] };
  const others = options.filter((option) => option !== first);
  if (best === 'fails') {
    const most = [...options].sort((a, b) => b.report.maxOutputA.value - a.report.maxOutputA.value)[0]!;
    return {
      ...base,
      takeV: null,
      sentence: `None of these supplies carries ${amps(demandA)} here: ${most.report.supplyV} V comes nearest with ${amps(most.report.maxOutputA.value)}. Bring the coils closer or retune before choosing a supply.`,
      others: options.map((option) => failsLine(option.report)),
    };
  }
  return {
    ...base,
    takeV: first.report.supplyV,
    sentence: sentenceOf(first, others, grades, options, demandA, wantedMarginPercent),
    others: others.map((option) => otherLine(first, option, demandA)),
  };
}

function prefer(a: SupplyReport, b: SupplyReport, grade: SupplyGrade): number {
  const keys = grade === 'weak' ? (['maxOutputA', 'efficiency'] as const) : (['efficiency', 'maxOutputA'] as const);
  for (const key of keys) {
    const { value, clear } = difference(a, b, key);
    if (clear) return value;
  }
  return a.supplyV - b.supplyV;
}

const amps = (value: number): string => `${value.toFixed(2)} A`;
const whole = (value: number): string => String(Math.round(value)).replace('-', '−');
const percent = (value: number): string => `${whole(value)} %`;
const celsius = (value: number): string => `${Math.round(value)} °C`;

function sentenceOf(
  first: SupplyOption,
  others: readonly SupplyOption[],
  grades: readonly SupplyGrade[],
  options: readonly SupplyOption[],
  demandA: number,
  wanted: number,
): string {
  const { report } = first;
  const margin = report.marginPercent;
  const sure = margin.low >= wanted ? '' : ` (${whole(margin.low)} to ${percent(margin.high)} by the tolerances)`;
  const hand = margin.value >= 999 ? '' : ` with ${percent(margin.value)} in hand${sure}`;
  const short = margin.value < wanted ? `, less than the ${percent(wanted)} wanted` : '';
  const opening = `Take ${report.supplyV} V: it gives ${amps(report.maxOutputA.value)} for the ${amps(demandA)} asked${hand}${short}.`;
  const rivals = others.filter((option) => grades[options.indexOf(option)] === grades[options.indexOf(first)]);
  if (others.length === 0) return opening;
  if (rivals.length === 0)
    return `${opening} ${others.length === 1 ? 'The other does' : 'The others do'} not come up to that.`;
  const why = rivals.map((rival) => {
    const efficiency = difference(rival.report, report, 'efficiency');
    const heat = difference(rival.report, report, 'receiverC');
    const current = difference(rival.report, report, 'maxOutputA');
    const reasons = [
      efficiency.clear && efficiency.value > 0
        ? `${points(efficiency.value)} more efficient at that load (${percent(100 * report.atDemand.efficiency.value)} against ${percent(100 * rival.report.atDemand.efficiency.value)})`
        : '',
      heat.clear && heat.value < 0
        ? `receiver ${Math.round(-heat.value)} K cooler (${celsius(report.atDemand.receiverC.value)} against ${celsius(rival.report.atDemand.receiverC.value)})`
        : '',
      current.clear && current.value > 0 ? `${amps(current.value)} stronger` : '',
    ].filter((reason) => reason !== '');
    return reasons.length > 0
      ? `Against ${rival.report.supplyV} V: ${reasons.join(', ')}.`
      : `Against ${rival.report.supplyV} V: no difference beyond the tolerances; the lower voltage overfeeds less.`;
  });
  return [opening, ...why].join(' ');
}

function points(value: number): string {
  const rounded = Math.max(1, Math.round(100 * Math.abs(value)));
  return `${rounded} point${rounded === 1 ? '' : 's'}`;
}

function failsLine(report: SupplyReport): string {
  const { state } = report.atDemand;
  const why = !report.wakes
    ? 'it does not wake here'
    : report.marginPercent.value < 0
      ? `${report.maxOutputA.value > 0 ? `${amps(report.maxOutputA.value)} at most` : 'nothing in regulation'}, limited by ${limitWords(report.limitedBy)}`
      : report.peakMarginPercent !== null && report.peakMarginPercent < 0
        ? 'a peak load is not carried'
        : `at the demand it is ${STATE_WORDS[state] ?? state}`;
  return `${report.supplyV} V: ${why}.`;
}

const STATE_WORDS: Readonly<Record<string, string>> = Object.freeze({
  currentLimited: 'current limited',
  overvoltage: 'over its voltage limit',
  hot: 'too hot',
});

/** What another supply does differently, each difference only where it is clear. */
function otherLine(first: SupplyOption, other: SupplyOption, demandA: number): string {
  const [a, b] = [first.report, other.report];
  const said: string[] = [];
  const current = difference(a, b, 'maxOutputA');
  const efficiency = difference(a, b, 'efficiency');
  const heat = difference(a, b, 'receiverC');
  const fails = !b.wakes || b.marginPercent.value < 0 || (b.peakMarginPercent !== null && b.peakMarginPercent < 0);
  if (fails)
    said.push(
      failsLine(b)
        .replace(/^[^:]*: /, '')
        .replace(/\.$/, ''),
    );
  else if (current.clear)
    said.push(
      `${amps(b.maxOutputA.value)} at most, ${amps(Math.abs(current.value))} ${current.value > 0 ? 'more' : 'less'}`,
    );
  if (efficiency.clear && CARRIED.has(b.atDemand.state))
    said.push(`${points(efficiency.value)} ${efficiency.value > 0 ? 'more' : 'less'} efficient at ${amps(demandA)}`);
  if (heat.clear && CARRIED.has(b.atDemand.state))
    said.push(
      `receiver ${Math.round(Math.abs(heat.value))} K ${heat.value > 0 ? 'hotter' : 'cooler'} (${celsius(b.atDemand.receiverC.value)})`,
    );
  if (first.reach && other.reach) said.push(...reachWords(first.reach, other.reach, !fails));
  if (b.atLightLoad.state === 'overfed' || b.atLightLoad.state === 'overvoltage')
    said.push(
      `at ${amps(b.atLightLoad.loadA)} it is ${b.atLightLoad.state === 'overfed' ? `overfed (receiver ${celsius(b.atLightLoad.receiverC)})` : 'over its voltage limit'}`,
    );
  return `${b.supplyV} V: ${said.length > 0 ? said.join('; ') : 'no difference beyond the tolerances'}.`;
}

function reachWords(first: SupplyReach, other: SupplyReach, carriesHere: boolean): string[] {
  const out: string[] = [];
  if (first.innerLimitMm === 0 && other.innerLimitMm > 0)
    out.push(`safe only from ${other.innerLimitMm.toFixed(1)} mm off centre outwards`);
  else if (carriesHere) {
    const offset = reachDifference(first.offsetMm, other.offsetMm);
    if (offset.clear && !(first.offsetBeyond && other.offsetBeyond))
      out.push(further(offset.value, 'off centre', other.offsetMm.value, other.offsetBeyond));
  }
  if (!carriesHere) return out;
  const gap = reachDifference(first.gap.holdMm, other.gap.holdMm);
  if (gap.clear && !(first.gap.beyond && other.gap.beyond))
    out.push(further(gap.value, 'apart', other.gap.holdMm.value, other.gap.beyond));
  return out;
}

function further(value: number, where: string, to: number, beyond: boolean): string {
  const reached = beyond ? `more than ${to.toFixed(1)} mm` : `${to.toFixed(1)} mm`;
  return `${Math.abs(value).toFixed(1)} mm ${value > 0 ? 'further' : 'less far'} ${where} (${reached})`;
}
