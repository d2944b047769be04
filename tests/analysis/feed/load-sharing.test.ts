import fc from 'fast-check';
import { expect, test } from 'vitest';
import { chargeTime } from '../../../src/analysis/feed/charge-time.ts';
import { feedReport } from '../../../src/analysis/feed/feed-report.ts';
import { chargeTimeOverMap, sharedChargeA } from '../../../src/analysis/feed/load-sharing.ts';
import { demoWith, linkOf } from './designs.ts';

test('the loads come first, the cell gets what is left up to what is set (seed 76)', () => {
  const current = fc.double({ min: 0, max: 3, noNaN: true });
  fc.assert(
    fc.property(current, current, current, (set, max, system) => {
      const charge = sharedChargeA(set, max, system);
      expect(charge).toBeGreaterThanOrEqual(0);
      expect(charge).toBeLessThanOrEqual(set);
      if (charge > 0) expect(charge + system).toBeLessThanOrEqual(max + 1e-12);
    }),
    { seed: 76, numRuns: 200 },
  );
  expect(sharedChargeA(0.3, 0.9, 0.48)).toBe(0.3);
  expect(sharedChargeA(0.3, 0.6, 0.48)).toBeCloseTo(0.12, 12);
});

test('over a map: full speed, slower, never, not computed', () => {
  const charge = feedReport(demoWith(), linkOf(1.1)).charge;
  if (!charge) throw new Error('the demo charges');
  const times = chargeTimeOverMap(Float64Array.of(1.1, 0.7, 0.48, Number.NaN), charge.map);
  expect(times[0]).toBeCloseTo(charge.time.totalS / 3600, 12);
  expect(times[1]).toBeCloseTo(chargeTime(charge.map.cell, 0.22, 0, charge.map.limit).totalS / 3600, 9);
  expect(times[2]).toBe(Number.POSITIVE_INFINITY);
  expect(times[3]).toBeNaN();
});
