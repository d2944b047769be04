import type { RandomSource } from '../../numerics/random.ts';
import { randomSource } from '../../numerics/random.ts';
import { maxOutput } from '../../physics/circuit/max-output.ts';
import type { Boards, LinkElectrical } from '../../physics/circuit/types.ts';
import type { Bench } from './bench.ts';
import { type BenchLink, shiftedLink } from './bench-links.ts';
import { type BenchState, stateAt } from './bench-state.ts';
import { exactReachOf } from './exact-reach.ts';
import { TWO_SIDED_95 } from './fit-parameters.ts';
import { LIMIT_MODEL } from './meter-accuracy.ts';
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

/** One possible bench: fitted values, and errors of what is computed from them. */
export interface Draw {
  readonly z: Float64Array;
  /** Largest current: true over computed. */
  readonly current: number;
  /** Standard normals of the field's numerical errors in L1, L2 and M. */
  readonly field: readonly [l1: number, l2: number, m: number];
}

/** What answers are asked for; plain data. */
export interface Asked {
  readonly bench: Bench;
  readonly rules: ReachRules;
  readonly lines: readonly ReachLine[];
  /** At the design's own place. */
  readonly home: BenchLink;
  readonly supplies: readonly number[];
}

/** Answers of some draws, in their order. */
export interface DrawnAnswers {
  readonly reachMm: readonly number[];
  /** Largest current at the design's own place, A: per supply voltage, per draw. */
  readonly mostA: readonly (readonly number[])[];
}

/** The point itself, without errors of the computation. */
export const exactlyAt = (z: Float64Array): Draw => ({ z, current: 1, field: [0, 0, 0] });

/** One draw about an optimum, chosen by weight. */
export function drawAbout(optima: readonly Weighted[], random: RandomSource): Float64Array {
  let pick = random.uniform();
  const chosen = optima.find(({ weight }) => {
    pick -= weight;
    return pick <= 0;
  });
  const { z, factor } = chosen ?? optima[0];
  return drawFrom(z, factor, random);
}

/** Draws from the optima by their weights, or from the priors; the errors of the computation are drawn with them. */
export function drawsOf(bench: Bench, optima: readonly Weighted[] | null, count: number, seed: number): Draw[] {
  const random = randomSource(seed);
  const n = bench.parameters.length;
  return Array.from({ length: count }, (): Draw => {
    const z = optima === null ? random.fillNormal(new Float64Array(n)) : drawAbout(optima, random);
    const current = 1 + LIMIT_MODEL * random.normal();
    return { z, current, field: [random.normal(), random.normal(), random.normal()] };
  });
}

function stateOf({ bench, rules, home }: Asked, { z, field }: Draw): BenchState {
  const state = stateAt(rules.boards, bench.parameters, z);
  const [l1, l2, m] = home.errors.map((half, i) => 1 + (half * field[i]) / TWO_SIDED_95);
  const { scales } = state;
  const coupling = (scales.coupling * m) / Math.sqrt(l1 * l2);
  return { ...state, scales: { ...scales, l1: scales.l1 * l1, l2: scales.l2 * l2, coupling } };
}

/** Reach and largest currents of draws: by first harmonic some milliseconds each, by the exact circuit some tenths of a second. */
export function answersOf(asked: Asked, draws: readonly Draw[], by: 'quick' | 'exact'): DrawnAnswers {
  const { rules, lines, home, supplies } = asked;
  const states = draws.map((draw) => stateOf(asked, draw));
  const reach = by === 'quick' ? reachOf : exactReachOf;
  const most = (link: LinkElectrical, boards: Boards): number =>
    by === 'quick' ? quickMargin(link, boards, rules) : maxOutput(link, boards, { charging: rules.charging }).current;
  return {
    reachMm: states.map((state, i) => reach(lines, state, rules, rules.wantedA / draws[i].current)),
    mostA: supplies.map((supplyV) =>
      states.map(({ boards: { drive, pickup, thermal }, gapShift, scales }, i) => {
        const link = shiftedLink(home, gapShift, 0, scales);
        return draws[i].current * most(link, { drive: { ...drive, supplyV }, pickup, thermal });
      }),
    ),
  };
}

/** Places of the draws to be solved exactly: evenly over the ranks of the quick reach, so that both of its tails are among them. */
export function spreadOver({ reachMm, mostA }: DrawnAnswers, count: number): number[] {
  const tie = mostA[0] ?? reachMm;
  const ranked = reachMm.map((_, i) => i).sort((a, b) => reachMm[a] - reachMm[b] || tie[a] - tie[b] || a - b);
  const wanted = Math.min(count, ranked.length);
  return Array.from({ length: wanted }, (_, k) => ranked[Math.floor(((k + 0.5) * ranked.length) / wanted)]);
}

/**
 * Quick answers put right: a draw that was solved exactly has its exact answer, any other takes the difference of one of the two nearest
 * ones by quick answer, the nearer one more often. So the exact circuit's share differs from draw to draw, as it does.
 */
export function putRight(quick: readonly number[], places: readonly number[], exact: readonly number[]): number[] {
  const random = randomSource(31);
  const known = places.map((place, k) => ({ place, at: quick[place], difference: exact[k] - quick[place] }));
  const exactOf = new Map(places.map((place, k) => [place, exact[k]]));
  return quick.map((value, i) => {
    const toss = random.uniform();
    const own = exactOf.get(i);
    if (own !== undefined) return own;
    if (known.length === 0) return value;
    const near = known
      .map(({ at, difference }) => ({ distance: Math.abs(at - value), difference }))
      .sort((a, b) => a.distance - b.distance);
    const tied = near.filter(({ distance }) => distance <= near[0].distance).length;
    if (tied > 1) return value + near[Math.floor(toss * tied)].difference;
    const second = near[1] ?? near[0];
    const sum = near[0].distance + second.distance;
    const chosen = sum > 0 && toss < near[0].distance / sum ? second : near[0];
    return value + chosen.difference;
  });
}
