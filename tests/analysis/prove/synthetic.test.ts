import { expect, test } from 'vitest';
import { type Bench, benchOf } from '../../../src/analysis/prove/bench.ts';
import { BenchProblem } from '../../../src/analysis/prove/bench-problem.ts';
import { stateAt } from '../../../src/analysis/prove/bench-state.ts';
import { bandOf, drawsOf } from '../../../src/analysis/prove/consequence.ts';
import { type FitLinks, fitBench, LOCAL_WORK } from '../../../src/analysis/prove/fit-bench.ts';
import { valueAt } from '../../../src/analysis/prove/fit-parameters.ts';
import { distinctOptima, keptOptima } from '../../../src/analysis/prove/optima.ts';
import { FIT_DEFAULTS, refineOptimum, searchFrom } from '../../../src/analysis/prove/optimum.ts';
import { posteriorOf } from '../../../src/analysis/prove/posterior.ts';
import { lineRatios, reachOf, reachRules } from '../../../src/analysis/prove/reach-line.ts';
import { randomSource } from '../../../src/numerics/random.ts';
import { airDesign, plannedLinks, QUICK_WORK, synthesise, usualPlan } from './synthetic-bench.ts';

/**
 * Benches whose true values are known. Ten by the quick model in every run; a long run by the exact circuit from end to end:
 *
 *     PROVE_BENCHES=200 npx vitest run --project unit tests/analysis/prove/synthetic.test.ts
 *
 * `PROVE_SEED` draws others.
 */
const LONG = Number(process.env.PROVE_BENCHES ?? 0);
const SEED = Number(process.env.PROVE_SEED ?? 700);

const design = airDesign();
const plan = usualPlan();

interface Tally {
  determined: number;
  inside: number;
  reached: number;
}

/** Fit of one bench by the quick model with few draws: what the test needs and no more. */
async function quickly(bench: Bench, links: FitLinks, truth: Float64Array, tally: Tally): Promise<void> {
  const options = { ...FIT_DEFAULTS, starts: 2 };
  const roughs = [0, 1].map((start) => searchFrom(bench, start, options));
  const problem = new BenchProblem(bench);
  const out = new Float64Array(problem.residuals);
  const clusters = distinctOptima(roughs, (z) => {
    problem.evaluate(z, out);
    return out.reduce((sum, value) => sum + value * value, 0);
  });
  const found = await Promise.all(
    clusters.map(async ({ z, starts }) => {
      const optimum = await refineOptimum(bench, z, options, QUICK_WORK);
      return { optimum, starts, posterior: posteriorOf(bench, optimum, options.robustBeyond) };
    }),
  );
  const kept = keptOptima(found);
  const [best] = kept;
  bench.parameters.forEach((_, j) => {
    const sd = best.posterior.sd[j];
    if (sd >= 0.5) return;
    tally.determined++;
    if (Math.abs(truth[j] - best.optimum.z[j]) <= 1.96 * sd) tally.inside++;
  });
  const rules = reachRules(design);
  const ones = links.lines.map((line) => line.links.map(() => 1));
  const reach = (z: Float64Array) => reachOf(links.lines, stateAt(rules.boards, bench.parameters, z), rules, ones);
  const weighted = kept.map(({ optimum, posterior, weight }) => ({ z: optimum.z, factor: posterior.factor, weight }));
  const band = bandOf(reach(best.optimum.z), drawsOf(bench, weighted, 40, 3).map(reach));
  const real = reach(truth);
  if (real >= band.low - 1e-9 && real <= band.high + 1e-9) tally.reached++;
}

test(`ten benches from seed ${SEED}: true values and the true reach lie inside the bands`, {
  timeout: 60_000,
}, async () => {
  const links = await plannedLinks(design, plan);
  const tally: Tally = { determined: 0, inside: 0, reached: 0 };
  for (let k = 0; k < 10; k++) {
    const { design: made, truth } = synthesise(design, links, plan, randomSource(SEED + k), 'quick');
    await quickly(benchOf(made, links.bench), links, truth, tally);
  }
  // Of twenty-some numbers inside with 95 % each, fewer than 80 % happen once in a thousand times.
  expect(tally.determined).toBeGreaterThan(15);
  expect(tally.inside / tally.determined).toBeGreaterThan(0.8);
  // Forty draws make a band of about 93 %.
  expect(tally.reached).toBeGreaterThanOrEqual(7);
});

test.runIf(LONG > 0)(
  `long run: ${LONG} benches from seed ${SEED} by the exact circuit`,
  { timeout: 36_000_000 },
  async () => {
    const links = await plannedLinks(design, plan);
    let determined = 0;
    let inside = 0;
    let reached = 0;
    let settled = 0;
    for (let k = 0; k < LONG; k++) {
      const { design: made, truth } = synthesise(design, links, plan, randomSource(SEED + k), 'exact');
      const report = await fitBench(made, LOCAL_WORK, { starts: 4 }, undefined, links);
      const bench = benchOf(made, links.bench);
      if (report.converged) settled++;
      report.parameters.forEach(({ decidedBy, fitted }, j) => {
        if (decidedBy !== 'readings') return;
        const real = valueAt(bench.parameters[j], truth[j]);
        determined++;
        if (real >= fitted.low && real <= fitted.high) inside++;
      });
      const rules = reachRules(made);
      const ratios = links.lines.map((line) => lineRatios(bench, line, rules, truth));
      const real = reachOf(links.lines, stateAt(rules.boards, bench.parameters, truth), rules, ratios);
      const { low, high } = report.consequence.reachMm.after;
      if (real >= low - 1e-9 && real <= high + 1e-9) reached++;
    }
    console.info(
      `${LONG} benches: ${inside} of ${determined} determined values inside, reach inside ${reached}, settled ${settled}`,
    );
    expect(inside / determined).toBeGreaterThanOrEqual(0.9);
    expect(inside / determined).toBeLessThanOrEqual(0.99);
    expect(reached / LONG).toBeGreaterThanOrEqual(0.9);
  },
);
