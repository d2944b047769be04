import type { Design } from '../../design/types.ts';
import { marginPercent } from '../margin/margin-percent.ts';
import type { Uncertain } from '../types.ts';
import {
  type Asked,
  type answersOf,
  type Draw,
  type DrawnAnswers,
  drawsOf,
  exactlyAt,
  putRight,
  spreadOver,
  type Weighted,
} from './drawn-answers.ts';
import { lineEnd } from './reach-line.ts';

/** A value with its 95 % band before the fit (priors) and after it. */
export interface BeforeAfter {
  readonly before: Uncertain;
  readonly after: Uncertain;
}

export interface SupplyVerdict {
  readonly supplyV: number;
  readonly maxOutputA: BeforeAfter;
  readonly marginPercent: BeforeAfter;
  /** Whether the wanted margin holds over the whole band, in part of it, or nowhere. */
  readonly verdict: 'holds' | 'uncertain' | 'fails';
}

export interface Consequence {
  readonly demandA: number;
  readonly wantedMarginPercent: number;
  /** Along x and y from the axis, by margin alone, mm. */
  readonly reachMm: BeforeAfter;
  /** Where the lines end: a reach of this much means "at least". */
  readonly reachEndMm: number;
  /** Free play on each side that stays inside the reach at its low end, mm. */
  readonly recessPlayMm: { readonly before: number; readonly after: number };
  /** At the design's own place, per supply voltage. */
  readonly supplies: readonly SupplyVerdict[];
}

/** Value with the middle 95 % of draws. The value is kept inside. */
export function bandOf(value: number, draws: readonly number[]): Uncertain {
  const sorted = [...draws].sort((a, b) => a - b);
  const at = (share: number): number => sorted[Math.round(share * (sorted.length - 1))];
  return { value, low: Math.min(value, at(0.025)), high: Math.max(value, at(0.975)) };
}

/** Supply voltages worth a verdict: the design's, and what was tried on the bench. */
export function suppliesOf(design: Design): number[] {
  const out = [design.transmitter.drive.supplyV];
  for (const { supplyV } of design.readings) {
    const nominal = Number(supplyV.toPrecision(2));
    if (nominal > 0 && out.every((known) => Math.abs(known / nominal - 1) > 0.05)) out.push(nominal);
  }
  return out.slice(0, 4);
}

/** Draws solved exactly about the optima and about the priors, and how many go into one piece of work. */
const EXACT_AFTER = 12;
const EXACT_BEFORE = 6;
const EXACT_CHUNK = 2;
const QUICK_CHUNK = 50;

/** The work behind the bands, done here or handed to workers. */
export interface AnswerWork {
  answers(asked: Asked, draws: readonly Draw[], by: 'quick' | 'exact'): Promise<ReturnType<typeof answersOf>>;
}

/** A point's answers with their 95 % bands over draws. */
interface Banded {
  readonly reachMm: Uncertain;
  readonly mostA: readonly Uncertain[];
}

/**
 * Bands of reach and currents over draws from the optima, or from the priors where there are none. Each of some draws spread over the
 * whole band is solved exactly, and the others take the exact circuit's share from these.
 */
export async function bandsOf(
  asked: Asked,
  optima: readonly Weighted[] | null,
  count: number,
  seed: number,
  work: AnswerWork,
): Promise<Banded> {
  const centre = optima === null ? new Float64Array(asked.bench.parameters.length) : optima[0].z;
  const draws = drawsOf(asked.bench, optima, count, seed);
  const inPieces = async (of: readonly Draw[], size: number, by: 'quick' | 'exact'): Promise<DrawnAnswers> => {
    const pieces = Array.from({ length: Math.ceil(of.length / size) }, (_, k) => of.slice(k * size, (k + 1) * size));
    const parts = await Promise.all(pieces.map((piece) => work.answers(asked, piece, by)));
    return {
      reachMm: parts.flatMap(({ reachMm }) => reachMm),
      mostA: asked.supplies.map((_, s) => parts.flatMap(({ mostA }) => mostA[s])),
    };
  };
  const quick = await inPieces(draws, QUICK_CHUNK, 'quick');
  const places = spreadOver(quick, optima === null ? EXACT_BEFORE : EXACT_AFTER);
  const exact = await inPieces([exactlyAt(centre), ...places.map((place) => draws[place])], EXACT_CHUNK, 'exact');
  const end = Math.min(...asked.lines.map(lineEnd));
  const band = (of: readonly number[], exactly: readonly number[], most: number): Uncertain => {
    const all = putRight(of, places, exactly.slice(1)).map((value) => Math.max(0, Math.min(most, value)));
    return bandOf(exactly[0], all);
  };
  return {
    reachMm: band(quick.reachMm, exact.reachMm, end),
    mostA: asked.supplies.map((_, s) => band(quick.mostA[s], exact.mostA[s], Number.POSITIVE_INFINITY)),
  };
}

/** What the fit does to reach, recess and supplies: `optima` best first. */
export async function consequenceOf(
  design: Design,
  asked: Asked,
  optima: readonly Weighted[],
  draws: number,
  work: AnswerWork,
): Promise<Consequence> {
  const { rules, lines, supplies } = asked;
  const [before, after] = await Promise.all([
    bandsOf(asked, null, draws, 11, work),
    bandsOf(asked, optima, draws, 12, work),
  ]);
  const percent = ({ value, low, high }: Uncertain): Uncertain => ({
    value: marginPercent(value, rules.demandA),
    low: marginPercent(low, rules.demandA),
    high: marginPercent(high, rules.demandA),
  });
  const wanted = design.demand.wantedMarginPercent;
  return {
    demandA: rules.demandA,
    wantedMarginPercent: wanted,
    reachMm: { before: before.reachMm, after: after.reachMm },
    reachEndMm: Math.min(...lines.map(lineEnd)),
    recessPlayMm: { before: before.reachMm.low, after: after.reachMm.low },
    supplies: supplies.map((supplyV, s): SupplyVerdict => {
      const maxOutputA = { before: before.mostA[s], after: after.mostA[s] };
      const margin = { before: percent(before.mostA[s]), after: percent(after.mostA[s]) };
      const verdict = margin.after.low >= wanted ? 'holds' : margin.after.high < wanted ? 'fails' : 'uncertain';
      return { supplyV, maxOutputA, marginPercent: margin, verdict };
    }),
  };
}
