import type { Design } from '../../design/types.ts';
import { randomSource } from '../../numerics/random.ts';
import { maxOutput } from '../../physics/circuit/max-output.ts';
import { marginPercent } from '../margin/pose-answer.ts';
import type { Uncertain } from '../types.ts';
import type { Bench } from './bench.ts';
import { type BenchLink, shiftedLink } from './bench-links.ts';
import { type BenchState, stateAt } from './bench-state.ts';
import { drawFrom } from './posterior.ts';
import { quickMargin, type ReachLine, type ReachRules, reachOf } from './reach-line.ts';

/** An optimum as draws need it. */
export interface Weighted {
  readonly z: Float64Array;
  /** Lower Cholesky factor of its covariance. */
  readonly factor: Float64Array;
  /** Of all optima kept; they add to 1. */
  readonly weight: number;
}

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

/** Draws of the fitted values: from the optima by their weights, or from the priors. */
export function drawsOf(bench: Bench, optima: readonly Weighted[] | null, count: number, seed: number): Float64Array[] {
  const n = bench.parameters.length;
  const random = randomSource(seed);
  if (optima === null) {
    return Array.from({ length: count }, () => random.fillNormal(new Float64Array(n)));
  }
  return Array.from({ length: count }, () => {
    let pick = random.uniform();
    const chosen = optima.find(({ weight }) => {
      pick -= weight;
      return pick <= 0;
    });
    const { z, factor } = chosen ?? optima[0];
    return drawFrom(z, factor, random);
  });
}

/** Value with the middle 95 % of draws. The value is kept inside. */
export function bandOf(value: number, draws: readonly number[]): Uncertain {
  const sorted = [...draws].sort((a, b) => a - b);
  const at = (share: number): number => sorted[Math.round(share * (sorted.length - 1))];
  return { value, low: Math.min(value, at(0.025)), high: Math.max(value, at(0.975)) };
}

export interface ConsequenceInputs {
  readonly design: Design;
  readonly bench: Bench;
  readonly rules: ReachRules;
  readonly lines: readonly ReachLine[];
  /** At the design's own place. */
  readonly home: BenchLink;
  /** Best first. */
  readonly optima: readonly Weighted[];
  readonly draws: number;
  /** Exact over quick current at the lines' nodes, per line, before and after. */
  readonly ratios: { readonly before: readonly (readonly number[])[]; readonly after: readonly (readonly number[])[] };
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

/** What the fit does to reach, recess and supplies. */
export function consequenceOf(inputs: ConsequenceInputs): Consequence {
  const { design, bench, rules, lines, home, optima, ratios } = inputs;
  const zero = new Float64Array(bench.parameters.length);
  const best = optima[0].z;
  const stateOf = (z: Float64Array): BenchState => stateAt(rules.boards, bench.parameters, z);
  const prior = drawsOf(bench, null, inputs.draws, 11).map(stateOf);
  const fitted = drawsOf(bench, optima, inputs.draws, 12).map(stateOf);
  const bands = (of: (state: BenchState, fit: 'before' | 'after') => number): BeforeAfter => ({
    before: bandOf(
      of(stateOf(zero), 'before'),
      prior.map((state) => of(state, 'before')),
    ),
    after: bandOf(
      of(stateOf(best), 'after'),
      fitted.map((state) => of(state, 'after')),
    ),
  });
  const reachMm = bands((state, fit) => reachOf(lines, state, rules, ratios[fit]));
  const supplies = suppliesOf(design).map((supplyV): SupplyVerdict => {
    const at = (state: BenchState) => {
      const { drive, pickup, thermal } = state.boards;
      return {
        link: shiftedLink(home, state.gapShift, 0, state.scales),
        boards: { drive: { ...drive, supplyV }, pickup, thermal },
      };
    };
    const ratioOf = (z: Float64Array): number => {
      const { link, boards } = at(stateOf(z));
      const quick = quickMargin(link, boards, rules);
      const exact = maxOutput(link, boards, { charging: rules.charging }).current;
      return quick > 0.02 && exact > 0.02 ? exact / quick : 1;
    };
    const ratio = { before: ratioOf(zero), after: ratioOf(best) };
    const maxOutputA = bands((state, fit) => {
      const { link, boards } = at(state);
      return ratio[fit] * quickMargin(link, boards, rules);
    });
    const percent = ({ value, low, high }: Uncertain): Uncertain => ({
      value: marginPercent(value, rules.demandA),
      low: marginPercent(low, rules.demandA),
      high: marginPercent(high, rules.demandA),
    });
    const margin = { before: percent(maxOutputA.before), after: percent(maxOutputA.after) };
    const wanted = design.demand.wantedMarginPercent;
    const verdict = margin.after.low >= wanted ? 'holds' : margin.after.high < wanted ? 'fails' : 'uncertain';
    return { supplyV, maxOutputA, marginPercent: margin, verdict };
  });
  return {
    demandA: rules.demandA,
    wantedMarginPercent: design.demand.wantedMarginPercent,
    reachMm,
    reachEndMm: Math.min(...lines.map((line) => line.atMm[line.atMm.length - 1])),
    recessPlayMm: { before: reachMm.before.low, after: reachMm.after.low },
    supplies,
  };
}
