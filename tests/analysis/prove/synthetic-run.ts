import { type Bench, benchOf } from '../../../src/analysis/prove/bench.ts';
import { stateAt } from '../../../src/analysis/prove/bench-state.ts';
import { type Asked, answersOf, type Draw, type DrawnAnswers } from '../../../src/analysis/prove/drawn-answers.ts';
import { exactReachOf } from '../../../src/analysis/prove/exact-reach.ts';
import { type FitLinks, type FitWork, fitBench, LOCAL_WORK } from '../../../src/analysis/prove/fit-bench.ts';
import { valueAt } from '../../../src/analysis/prove/fit-parameters.ts';
import type { FitOptions } from '../../../src/analysis/prove/optimum.ts';
import { reachOf, reachRules } from '../../../src/analysis/prove/reach-line.ts';
import { randomSource } from '../../../src/numerics/random.ts';
import { QUICK_WORK, synthesise } from './synthetic-bench.ts';
import type { BaseDesign } from './synthetic-designs.ts';

/** What became of one bench whose true values are known. */
export interface BenchOutcome {
  readonly base: string;
  readonly seed: number;
  readonly readings: number;
  readonly settled: boolean;
  readonly explained: boolean;
  readonly optima: number;
  /** Values called determined, and those of them whose truth lies in their band. */
  readonly determined: number;
  readonly inside: number;
  readonly outside: readonly string[];
  /** True reach and its band, mm. */
  readonly reachMm: number;
  readonly band: readonly [low: number, high: number];
  readonly reached: boolean;
}

/** Reach is compared to within what the exact search itself leaves open, mm. */
const REACH_TOLERANCE = 0.1;

/**
 * Work that many benches of one design share: their bands before the fit rest on the same draws from the same priors. Nobody looks at
 * their efficiency curves and supply verdicts, which are left to the quick model.
 */
export function sharedWork(base: FitWork): FitWork {
  const known = new Map<string, DrawnAnswers>();
  return {
    ...base,
    curve: QUICK_WORK.curve,
    answers: async (asked: Asked, draws: readonly Draw[], by: 'quick' | 'exact') => {
      const key = `${by} ${draws.map(({ z }) => z.join()).join(';')}`;
      const answers = known.get(key) ?? {
        reachMm: (await base.answers({ ...asked, supplies: [] }, draws, by)).reachMm,
        mostA: answersOf({ ...asked, lines: [] }, draws, 'quick').mostA,
      };
      known.set(key, answers);
      return answers;
    },
  };
}

/** How near the true reach the exact circuit must have been asked, mm. */
const TRUE_NEAR_MM = 0.03;

/** Makes a bench by the model asked for, fits it, and compares with the truth. */
export async function runBench(
  base: BaseDesign,
  links: FitLinks,
  seed: number,
  model: 'quick' | 'exact',
  work: FitWork,
  options: Partial<FitOptions>,
): Promise<BenchOutcome> {
  const { design, truth } = synthesise(base.design, links, base.plan, randomSource(seed), model);
  const bench: Bench = benchOf(design, links.bench);
  const report = await fitBench(design, work, options, undefined, links);
  const called = report.parameters.flatMap(({ decidedBy, fitted, name }, j) => {
    if (decidedBy !== 'readings') return [];
    const real = valueAt(bench.parameters[j], truth[j]);
    return [{ name, inside: real >= fitted.low && real <= fitted.high }];
  });
  const rules = reachRules(design);
  const real = stateAt(rules.boards, bench.parameters, truth);
  const reachMm =
    model === 'quick'
      ? reachOf(links.lines, real, rules)
      : exactReachOf(links.lines, real, rules, rules.wantedA, TRUE_NEAR_MM);
  const { low, high } = report.consequence.reachMm.after;
  return {
    base: base.name,
    seed,
    readings: design.readings.length,
    settled: report.converged,
    explained: report.explains,
    optima: report.optima.length,
    determined: called.length,
    inside: called.filter(({ inside }) => inside).length,
    outside: called.filter(({ inside }) => !inside).map(({ name }) => name),
    reachMm,
    band: [low, high],
    reached: reachMm >= low - REACH_TOLERANCE && reachMm <= high + REACH_TOLERANCE,
  };
}

export const exactWork = (): FitWork => sharedWork(LOCAL_WORK);
