import { describe, expect, test } from 'vitest';
import { chainOf } from '../../../src/analysis/feed/chain-of.ts';
import { type DayInputs, dayBalance } from '../../../src/analysis/feed/day.ts';
import type { CellDocument, Design } from '../../../src/design/types.ts';
import { demoWith } from './designs.ts';

function inputs(design: Design, more: Partial<DayInputs> = {}): DayInputs {
  const { cell, boost, awayLoads } = chainOf(design);
  const dockHours = design.demand.dock.hoursPerDay;
  return { cell: cell as CellDocument, boost, loads: awayLoads, dockHours, chargeA: 0.3, limit: null, ...more };
}

describe('a day of the demo', () => {
  const balance = dayBalance(inputs(demoWith()));

  test('lasts, and the night makes up for it', () => {
    expect(balance.verdict).toBe('lasts');
    expect(balance.hoursUsed).toBe(2.25);
    expect(balance.hoursOff).toBeCloseTo(24 - 9 - 2.25, 12);
    expect(balance.neededHours).toBeLessThan(9);
    // Everything used comes back, up to the charge at which charging ends.
    expect(balance.restoredAh).toBeCloseTo(balance.usedAh + balance.standbyAh, 6);
    expect(balance.daysUntilFlat).toBe(Number.POSITIVE_INFINITY);
  });

  test('by hand: playing draws 2.4 W / 0.88 from 3.7 V behind 0.15 ohm', () => {
    const playing = balance.uses.find((use) => use.name === 'playing');
    const watts = 2.4 / 0.88;
    const amperes = (3.7 - Math.sqrt(3.7 ** 2 - 4 * 0.15 * watts)) / 0.3 + 0.001;
    expect(playing?.cellA).toBeCloseTo(amperes, 12);
    expect(playing?.usedAh).toBeCloseTo(1.5 * amperes, 12);
  });
});

test('too little time on the dock loses some each day', () => {
  const balance = dayBalance(inputs(demoWith(), { dockHours: 2 }));
  expect(balance.verdict).toBe('losesEachDay');
  expect(balance.restoredAh).toBeCloseTo(0.6, 6);
  const lost = balance.usedAh + balance.standbyAh - balance.restoredAh;
  expect(balance.daysUntilFlat).toBeGreaterThan(1);
  expect(balance.daysUntilFlat * lost).toBeLessThanOrEqual(1.8);
});

test('a long day is flat before the evening; no charge never makes up', () => {
  const long = dayBalance(inputs(demoWith(['demand.loads[1].hoursPerDay', 8])));
  expect(long.verdict).toBe('flatDuringDay');
  expect(long.eveningCharge).toBeLessThan(0);
  const none = dayBalance(inputs(demoWith(), { chargeA: 0 }));
  expect(none.neededHours).toBe(Number.POSITIVE_INFINITY);
  expect(none.restoredAh).toBe(0);
  expect(none.verdict).toBe('losesEachDay');
});

test('a converter that collapses shows as no runtime', () => {
  const weak = dayBalance(inputs(demoWith(['demand.loads[2].through[1].resistanceOhm', 2])));
  expect(weak.uses.find((use) => use.name === 'playing')).toMatchObject({
    cellA: Number.POSITIVE_INFINITY,
    runtimeH: 0,
  });
  expect(weak.verdict).toBe('flatDuringDay');
});
