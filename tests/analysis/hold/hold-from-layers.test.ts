import { describe, expect, it } from 'vitest';
import { fullMagnets, holdFromLayers, lotteryFrom } from '../../../src/analysis/hold/hold-from-layers.ts';
import { holdLayer, layerPlans } from '../../../src/analysis/hold/hold-layer.ts';
import { directMargin } from '../../../src/analysis/hold/hold-margins.ts';
import { settledRecess } from '../../../src/analysis/hold/recess-steps.ts';
import { gapLimits } from '../../../src/analysis/hold/tolerance-stack.ts';
import { MAGNETS, RECESS } from './demo-design.ts';
import { plainLink } from './plain-link.ts';

/** The air version of the check; the one with ferrite and metal is tests/benchmarks/hold-rows.ts. */
describe('the recommended recess of the demo in air, worst corner by direct solution', () => {
  const { design, model } = plainLink({ recess: RECESS, magnets: MAGNETS });
  const layers = layerPlans(design).map((plan) => holdLayer(design, model, plan));
  const inputs = { design, model, plates: [], layers };
  const direct = directMargin(design);
  const advice = { worst: settledRecess(inputs, 'worst'), rss: settledRecess(inputs, 'rss') };
  const worstOf = ({ xMm, yMm, yaw }: { readonly xMm: number; readonly yMm: number; readonly yaw: number }) =>
    Math.min(...[1, -1].flatMap((sx) => [1, -1].map((sy) => direct(sx * xMm, sy * yMm, sx * sy * yaw))));

  it.each(['worst', 'rss'] as const)('%s: the margin there is the wanted one within 0.5 %', (stacking) => {
    const { clearanceMm, worst, directPercent, directTries, band } = advice[stacking];
    expect(clearanceMm).not.toBeNull();
    // Solved once more, at the place named and at its images.
    const again = worstOf(worst);
    expect(again).toBeCloseTo(directPercent ?? Number.NaN, 6);
    expect(again).toBeGreaterThanOrEqual(20);
    expect(again).toBeLessThan(20.5);
    expect(directTries).toBeLessThanOrEqual(5);
    // The model's own band stands beside it and is far wider.
    expect(band?.low).toBeLessThan(20);
    expect(band?.high).toBeGreaterThan(20);
    expect(worst.name).toContain('corner');
  });

  it('a first look has all but the direct solutions; the parts put in are taken over', () => {
    const turns = layers.filter((layer) => layer.use === 'turns');
    const first = holdFromLayers({ ...inputs, layers: turns }, undefined, { count: 5000 });
    expect(first.recess.recommended.directPercent).toBeNull();
    expect(first.safeHere?.reachMm).toBeGreaterThan(5);
    expect(first.region).toBeNull();
    expect(first.stack.limits).toBeNull();
    expect(first.magnets?.heating).toBeNull();
    const magnets = fullMagnets(design, first.safeHere?.outline ?? null);
    const limits = gapLimits((gap) => 100 - 8 * gap, 20, 5.9);
    const report = holdFromLayers(inputs, { advice, magnets, limits, check: null, lottery: null }, { count: 5000 });
    expect(report.recess.recommended).toEqual(advice.worst);
    expect(Math.abs((first.recess.recommended.clearanceMm ?? 0) - (advice.worst.clearanceMm ?? 0))).toBeLessThan(0.3);
    expect(report.magnets).toEqual(magnets);
    expect(report.stack.limits).toEqual(limits);
    expect(report.stack.worstKeepsMargin).toBe(true);
    expect(report.region?.worst.reachMm).toBeGreaterThan(5);
    expect(report.region?.volumeMm3).toBeGreaterThan(1000);
    expect(report.lottery.byAid.map(({ aid }) => aid)).toEqual(['nothing', 'recess', 'magnets', 'both']);
    expect(report.lottery.byAid[0].answer.all.probability).toBeGreaterThan(0.9);
    expect(structuredClone(report)).toEqual(report);
    // Piece by piece it is the same lottery, at its full count.
    const done = { advice, magnets };
    const pieces = {
      free: lotteryFrom(inputs, done, 'free'),
      walled: lotteryFrom(inputs, done, 'walled'),
      curve: lotteryFrom(inputs, done, 'curve'),
    };
    const whole = holdFromLayers(inputs, { ...done, limits, check: null, lottery: null });
    const pieced = holdFromLayers(inputs, { ...done, limits, check: null, lottery: pieces });
    expect(pieced.lottery).toEqual(whole.lottery);
  });
});
