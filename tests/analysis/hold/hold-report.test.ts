import { describe, expect, it } from 'vitest';
import { type HoldDependencies, holdReport } from '../../../src/analysis/hold/hold-report.ts';
import { demo, MAGNETS, RECESS } from './demo-design.ts';

/** A made-up margin that falls with offset and turn. */
const margin = (x: number, y: number, yaw: number) => 110 - 2.2 * x * x - 2.8 * y * y - 300 * yaw * yaw;
const slack =
  (level: number) =>
  (x: Float64Array, y: Float64Array, yaw: Float64Array, out: Float64Array): void => {
    for (let k = 0; k < out.length; k += 1) out[k] = margin(x[k], y[k], yaw[k]) - level;
  };
const deps = (changes: Partial<HoldDependencies> = {}): HoldDependencies => ({
  marginAt: margin,
  directMarginAt: null,
  bandAt: null,
  conditions: [
    { name: 'playing', slack: slack(0) },
    { name: 'start-up', slack: slack(40) },
  ],
  marginAtGap: (gap) => 110 - 12 * Math.abs(gap - 5.5),
  magnets: {},
  lottery: { count: 20_000, seed: 4 },
  mostClearanceMm: 12,
  region: null,
  ...changes,
});

describe('holdReport', () => {
  it('demo without recess and magnets still recommends, on a stated assumption', () => {
    const report = holdReport(demo(), deps());
    expect(report.recess.assumed).toBe(true);
    expect(report.recess.notes[0]).toContain('names no recess');
    expect(report.recess.recommended.worst.marginPercent).toBeCloseTo(20, 1);
    expect(report.recess.asDesigned).toBeNull();
    expect(report.magnets).toBeNull();
    expect(report.lottery.byAid.map((b) => b.aid)).toEqual(['nothing', 'recess']);
    expect(report.lottery.clearanceMm).toBe(report.recess.recommended.clearanceMm);
    expect(report.sentence).toMatch(/^A recess with up to \d+\.\d\d mm .* put down freely .* in the recess/);
  });

  it('with both aids: all four lotteries, each with its interval; aids help', () => {
    const report = holdReport(demo({ recess: RECESS, magnets: MAGNETS }), deps());
    expect(report.lottery.byAid.map((b) => b.aid)).toEqual(['nothing', 'recess', 'magnets', 'both']);
    const [nothing, recess, magnets, both] = report.lottery.byAid.map((b) => b.answer.all);
    expect(recess.probability).toBeGreaterThan(nothing.probability);
    expect(magnets.probability).toBeGreaterThan(nothing.probability);
    expect(both.probability).toBeGreaterThanOrEqual(recess.probability - 1e-9);
    for (const chance of [nothing, recess, magnets, both]) {
      expect(chance.wilson.low).toBeLessThanOrEqual(chance.probability);
      expect(chance.wilson.high).toBeGreaterThanOrEqual(chance.probability);
    }
    expect(report.recess.asDesigned?.keepsMargin).toBe(true);
    expect(report.sentence).toContain('bring it home from');
  });

  it('moves the recommendation until the direct margin is the wanted one', () => {
    // The quick margin is two points too kind.
    const direct = (x: number, y: number, yaw: number) => margin(x, y, yaw) - 2;
    const report = holdReport(demo({ recess: RECESS }), deps({ directMarginAt: direct }));
    for (const { directPercent, clearanceMm } of [report.recess.recommended, report.recess.recommendedRss]) {
      expect(clearanceMm).not.toBeNull();
      expect(directPercent ?? Number.NaN).toBeGreaterThanOrEqual(20);
      expect(directPercent ?? Number.NaN).toBeLessThan(20.1);
    }
    const quick = holdReport(demo({ recess: RECESS }), deps());
    expect(report.recess.recommended.clearanceMm ?? 0).toBeLessThan(quick.recess.recommended.clearanceMm ?? 0);
  });

  it('shows the model’s band at the worst placement', () => {
    const report = holdReport(
      demo({ recess: RECESS }),
      deps({ bandAt: (x, y, yaw) => ({ value: margin(x, y, yaw), low: 12, high: 29 }) }),
    );
    expect(report.recess.recommended.band?.low).toBe(12);
    expect(report.recess.recommended.band?.value).toBeCloseTo(report.recess.recommended.worst.marginPercent, 9);
  });

  it('stack: both ends of the gap and whether the tolerances stay inside', () => {
    const report = holdReport(demo(), deps());
    expect(report.stack.thickness?.nominalMm).toBeCloseTo(5.9, 9);
    expect(report.stack.limits?.thickestMm).toBeCloseTo(13, 2);
    expect(report.stack.worstKeepsMargin).toBe(true);
    const tight = holdReport(demo(), deps({ marginAtGap: (gap) => 25 - 20 * Math.abs(gap - 5.9) }));
    expect(tight.stack.worstKeepsMargin).toBe(false);
    expect(holdReport(demo(), deps({ marginAtGap: null })).stack.worstKeepsMargin).toBeNull();
  });

  it('says so where no recess is small enough, and where the lottery is lost', () => {
    const report = holdReport(demo({ recess: RECESS }), deps({ marginAt: () => 5 }));
    expect(report.recess.recommended.clearanceMm).toBeNull();
    expect(report.sentence).toContain('even a snug one leaves 5.0 %');
  });

  it('is plain data: survives a structured clone unchanged', () => {
    const report = holdReport(demo({ recess: RECESS, magnets: MAGNETS }), deps());
    expect(structuredClone(report)).toEqual(report);
    expect(JSON.stringify(report)).not.toContain('undefined');
  });

  it('same seed, same report', () => {
    expect(holdReport(demo(), deps()).lottery).toEqual(holdReport(demo(), deps()).lottery);
  });
});
