import { beforeAll, describe, expect, test } from 'vitest';
import { type Bench, benchOf } from '../../../src/analysis/prove/bench.ts';
import { stateAt } from '../../../src/analysis/prove/bench-state.ts';
import { bandOf } from '../../../src/analysis/prove/consequence.ts';
import { answersOf, drawsOf, exactlyAt, putRight, spreadOver } from '../../../src/analysis/prove/drawn-answers.ts';
import { exactReachOf } from '../../../src/analysis/prove/exact-reach.ts';
import type { FitLinks } from '../../../src/analysis/prove/fit-bench.ts';
import { lineEnd, linkOnLine, reachRules } from '../../../src/analysis/prove/reach-line.ts';
import { randomSource } from '../../../src/numerics/random.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import { airDesign, drawTruth, plannedLinks, usualPlan, withReadings } from './synthetic-bench.ts';

const design = withReadings(airDesign(), [{ supplyV: 5, outputA: 0.5, supplyA: 0.7, gapMm: 5 }]);
const rules = reachRules(design);
let links: FitLinks;
let bench: Bench;

beforeAll(async () => {
  links = await plannedLinks(design, usualPlan().slice(0, 1));
  bench = benchOf(design, links.bench);
});

test('the exact circuit holds the wanted current up to the exact reach, and not beyond', () => {
  const [line] = links.lines;
  for (const seed of [1, 2, 3, 4, 5]) {
    const state = stateAt(rules.boards, bench.parameters, drawTruth(bench.parameters.length, randomSource(seed)));
    const linkAt = linkOnLine(line, state);
    const holds = (atMm: number): boolean =>
      maxOutput(linkAt(atMm), state.boards, { charging: rules.charging }).current >= rules.wantedA;
    const reachMm = exactReachOf(links.lines, state, rules);
    const said = `seed ${seed}, ${reachMm.toFixed(2)} mm`;
    expect(reachMm, said).toBeGreaterThan(1);
    expect(reachMm, said).toBeLessThan(lineEnd(line) - 0.2);
    for (const share of [0, 0.35, 0.7]) expect(holds(share * reachMm), `${said}, at ${share}`).toBe(true);
    expect(holds(reachMm - 0.15), said).toBe(true);
    expect(holds(reachMm + 0.15), said).toBe(false);
  }
});

describe('draws', () => {
  test('carry the errors of the computation beside the values', () => {
    const draws = drawsOf(bench, null, 2000, 4);
    const spread = (of: (k: number) => number): number =>
      Math.sqrt(draws.reduce((sum, _, k) => sum + of(k) ** 2, 0) / draws.length);
    expect(spread((k) => draws[k].current - 1)).toBeGreaterThan(0.009);
    expect(spread((k) => draws[k].current - 1)).toBeLessThan(0.011);
    expect(spread((k) => draws[k].field[2])).toBeGreaterThan(0.9);
    // A lower true current than the computed one shortens the reach.
    const asked = { bench, rules, lines: links.lines, home: links.home, supplies: [5] };
    const zero = exactlyAt(new Float64Array(bench.parameters.length));
    const [as, less] = answersOf(asked, [zero, { ...zero, current: 0.9 }], 'quick').reachMm;
    expect(less).toBeLessThan(as - 0.2);
  });

  test('those to be solved exactly reach into both tails', () => {
    const reachMm = Array.from({ length: 200 }, (_, i) => (i * 37) % 200);
    const places = spreadOver({ reachMm, mostA: [reachMm] }, 12);
    const chosen = places.map((place) => reachMm[place]);
    expect(chosen).toHaveLength(12);
    expect(Math.min(...chosen)).toBeLessThan(10);
    expect(Math.max(...chosen)).toBeGreaterThan(189);
  });

  test('an exact share that differs from draw to draw widens the band as it does when all are solved', () => {
    // The exact answer has a part that goes with the quick one and one that does not.
    const random = randomSource(8);
    const quick = Array.from({ length: 1000 }, () => random.normal());
    const exact = quick.map((value) => 1.4 * value + 0.6 * random.normal() + 3);
    const places = spreadOver({ reachMm: quick, mostA: [quick] }, 40);
    const right = putRight(
      quick,
      places,
      places.map((place) => exact[place]),
    );
    for (const place of places) expect(right[place]).toBeCloseTo(exact[place], 12);
    const width = (of: readonly number[]): number => {
      const { low, high } = bandOf(3, of);
      return high - low;
    };
    expect(width(right) / width(exact)).toBeGreaterThan(0.85);
    expect(width(right) / width(exact)).toBeLessThan(1.15);
    // With the share of the best values alone the band is much too narrow.
    expect(width(quick.map((value) => value + 3)) / width(exact)).toBeLessThan(0.75);
  });
});
