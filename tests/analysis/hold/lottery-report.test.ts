import { describe, expect, it } from 'vitest';
import { lotteryReport, scalarSlack } from '../../../src/analysis/hold/lottery-report.ts';
import { recessReport } from '../../../src/analysis/hold/recess-report.ts';
import { demo, RECESS } from './demo-design.ts';

/** A made-up margin that falls with offset and turn. */
const margin = (x: number, y: number, yaw: number) => 110 - 2.2 * x * x - 2.8 * y * y - 300 * yaw * yaw;
const slack =
  (level: number) =>
  (x: Float64Array, y: Float64Array, yaw: Float64Array, out: Float64Array): void => {
    for (let k = 0; k < out.length; k += 1) out[k] = margin(x[k], y[k], yaw[k]) - level;
  };
const conditions = [
  { name: 'playing', slack: slack(0) },
  { name: 'start-up', slack: slack(40) },
];

describe('lotteryReport', () => {
  it('a user’s own list of placements is taken as it is', () => {
    const placing = {
      kind: 'list',
      xMm: Float64Array.of(0, 3, 20),
      yMm: Float64Array.of(0, 0, 0),
      yaw: Float64Array.of(0, 0, 0),
    } as const;
    const report = lotteryReport(demo(), conditions, null, null, { placing });
    expect(report.byAid[0].answer.all.hits).toBe(2);
    expect(report.curve).toBeNull();
  });

  it('the clearance curve falls, with the loss per millimetre', () => {
    const recess = recessReport(demo({ recess: { ...RECESS, clearanceMm: 6 } }), {
      marginAt: margin,
      directMarginAt: null,
      bandAt: null,
    });
    const { curve } = lotteryReport(demo(), conditions, recess, null, { count: 20_000, seed: 1 });
    if (!curve) throw new Error('no curve');
    expect(curve.probability[0]).toBeGreaterThan(curve.probability[6]);
    expect(Math.min(...curve.perMm)).toBeLessThan(0);
  });

  it('scalarSlack looks up one place', () => {
    expect(scalarSlack(slack(0))(1, 2, 0.1)).toBeCloseTo(margin(1, 2, 0.1), 12);
  });
});
