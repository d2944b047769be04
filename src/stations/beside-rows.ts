import { limitWords } from '../analysis/margin/state-sentence.ts';
import type { OffsetMap, PoseAnswer } from '../analysis/types.ts';
import { formatBand, formatQuantity } from '../units/format.ts';
import { type AnswerSpan, plainSpan } from './answer-line.ts';
import type { TermId } from './glossary.ts';

/** What is known of one of the two designs. */
export interface BesideSide {
  readonly pose: PoseAnswer | null;
  readonly map: OffsetMap | null;
}

/** A number of one design with what it may be. */
interface Known {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly text: string;
}

export interface BesideRow {
  readonly term: TermId;
  readonly here: string;
  readonly there: string;
  /** `same`: no difference to speak of; `within`: smaller than the bands; `clear`: the bands do not meet. */
  readonly verdict: 'same' | 'within' | 'clear' | 'unknown';
  readonly difference: string;
}

const NBSP = '\u00a0';
const BLANK = '–';

const band = (value: number, low: number, high: number, text: (v: number) => string, range: string): Known => ({
  value,
  low,
  high,
  text: high - low > 1e-3 * Math.abs(value) ? `${text(value)} (${range})` : text(value),
});
const exact = (value: number, text: string): Known => ({ value, low: value, high: value, text });

const k = (value: number): string => value.toFixed(3);
const percent = (value: number): string => `${value < -0.5 ? '\u2212' : ''}${Math.abs(Math.round(value))}${NBSP}%`;
const mm = (value: number): string => `${value.toFixed(1)}${NBSP}mm`;
const ampere = (value: number): string => formatQuantity(value, 'A', { digits: 3, space: NBSP, fixedUnit: true });

interface Spec {
  readonly term: TermId;
  readonly of: (side: BesideSide) => Known | null;
  /** A difference, signed. */
  readonly change: (by: number) => string;
}

const signed =
  (text: (value: number) => string) =>
  (by: number): string =>
    `${by < 0 ? '\u2212' : '+'}${text(Math.abs(by))}`;

const SPECS: readonly Spec[] = [
  {
    term: 'coupling',
    of: ({ pose }) => {
      const b = pose?.link.couplingBand;
      return b ? band(pose.link.coupling, b.low, b.high, k, `${k(b.low)}–${k(b.high)}`) : null;
    },
    change: signed(k),
  },
  {
    term: 'efficiencyLimit',
    of: ({ pose }) => {
      const share = 100 * (pose?.link.linkEfficiencyLimit ?? Number.NaN);
      return pose ? exact(share, `${share.toFixed(1)}${NBSP}%`) : null;
    },
    change: signed((by) => `${by.toFixed(1)}${NBSP}%`),
  },
  {
    term: 'mostCurrent',
    of: ({ pose }) => {
      const b = pose?.margin.maxOutputBand;
      return b
        ? band(b.value, b.low, b.high, ampere, formatBand(b.low, b.high, 'A', { fixedUnit: true, space: NBSP }))
        : null;
    },
    change: signed(ampere),
  },
  {
    term: 'margin',
    of: ({ pose }) => {
      const b = pose?.margin.marginBandPercent;
      return b ? band(b.value, b.low, b.high, percent, `${percent(b.low)} to ${percent(b.high)}`) : null;
    },
    change: signed(percent),
  },
  {
    term: 'reach',
    of: ({ map }) => {
      const b = map?.reachMm;
      return b ? band(b.value, b.low, b.high, mm, `${b.low.toFixed(1)}–${b.high.toFixed(1)}`) : null;
    },
    change: signed(mm),
  },
  {
    term: 'wakeReach',
    of: ({ map }) => (map ? exact(map.wakeReachMm, mm(map.wakeReachMm)) : null),
    change: signed(mm),
  },
  {
    term: 'efficiency',
    of: ({ pose }) => {
      const share = 100 * (pose?.operatingPoint.efficiency ?? Number.NaN);
      return Number.isFinite(share) ? exact(share, percent(share)) : null;
    },
    change: signed(percent),
  },
  {
    term: 'receiverHeat',
    of: ({ pose }) => {
      const c = pose?.operatingPoint.receiverC ?? Number.NaN;
      return Number.isFinite(c) ? exact(c, `${c.toFixed(0)}${NBSP}°C`) : null;
    },
    change: signed((by) => `${by.toFixed(0)}${NBSP}K`),
  },
];

/** Key numbers of both designs in two columns, and whether they differ by more than is known. */
export function besideRows(here: BesideSide, there: BesideSide): readonly BesideRow[] {
  return SPECS.map(({ term, of, change }) => {
    const a = of(here);
    const b = of(there);
    const texts = { term, here: a?.text ?? BLANK, there: b?.text ?? BLANK };
    if (!a || !b) return { ...texts, verdict: 'unknown', difference: BLANK };
    const by = b.value - a.value;
    const apart = b.low > a.high || b.high < a.low;
    // Nothing that would be printed.
    const same = !/[1-9]/.test(change(by));
    return {
      ...texts,
      verdict: same ? 'same' : apart ? 'clear' : 'within',
      difference: same ? 'the same' : change(by),
    };
  });
}

const strong = (text: string): AnswerSpan => ({ text, tone: 'strong' });
const bad = (text: string): AnswerSpan => ({ text, tone: 'bad' });

/** Why there is nothing to compare with: the design beside has a fault, or its answer could not be worked out. */
export type BesideTrouble = 'faulty' | 'failed';

const TROUBLES: Readonly<Record<BesideTrouble, string>> = Object.freeze({
  faulty: 'The design beside does not hold together.',
  failed: 'What the design beside can do could not be worked out.',
});

/** What can be said of the design on the table alone. */
function alone({ map }: BesideSide): readonly AnswerSpan[] {
  if (map === null) return [];
  const { value } = map.reachMm;
  if (value <= 0) return [plainSpan(' The one on the table does not hold its load, not even centred.')];
  return [plainSpan(' The one on the table reaches '), strong(mm(value)), plainSpan(' off centre.')];
}

/** Which of the two reaches further, and whether that is more than the uncertainty. */
export function besideAnswer(
  here: BesideSide,
  there: BesideSide,
  thereName: string,
  trouble: BesideTrouble | null = null,
): readonly AnswerSpan[] {
  if (trouble !== null) return [bad(TROUBLES[trouble]), ...alone(here)];
  const a = here.map?.reachMm;
  const b = there.map?.reachMm;
  if (!a || !b) {
    return [plainSpan('Working out what the two designs can do'), { text: ' …', tone: 'uncertain' }];
  }
  const by = b.value - a.value;
  if (a.value <= 0 && b.value <= 0) return [bad('Neither design holds its load, not even centred.')];
  if (Math.abs(by) < 0.05) return [plainSpan('Both reach '), strong(mm(a.value)), plainSpan(' off centre.')];
  const further = by > 0;
  const clear = b.low > a.high || b.high < a.low;
  return [
    strong(further ? thereName : 'The design on the table'),
    plainSpan(' reaches '),
    strong(`${mm(Math.abs(by))} further`),
    plainSpan(` off centre: ${mm(further ? b.value : a.value)} against ${mm(further ? a.value : b.value)}`),
    plainSpan(clear ? ', more than the uncertainty.' : '.'),
    ...(clear ? [] : [{ text: ' Their bands overlap, so it may be less.', tone: 'uncertain' } as const]),
  ];
}

/**
 * What gives out first in each.
 * @param kept the design on the table has a fault: what is said of it is of its last state that held together
 */
export function besideWhy(here: BesideSide, there: BesideSide, trouble: BesideTrouble | null, kept: boolean): string {
  const last = kept ? ' Of the design on the table as it last held together.' : '';
  if (trouble === 'faulty') return `Change places to mend it on the table, or take it away.${last}`;
  if (!here.pose || !there.pose) return last.trim();
  const [a, b] = [limitWords(here.pose.margin.limitedBy), limitWords(there.pose.margin.limitedBy)];
  return `${a === b ? `In both, what gives out first is ${a}.` : `What gives out first: on the table, ${a}; beside, ${b}.`}${last}`;
}
