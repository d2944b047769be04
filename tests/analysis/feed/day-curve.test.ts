import { describe, expect, test } from 'vitest';
import { DAY_POINTS, dayCurve } from '../../../src/analysis/feed/day-curve.ts';
import { dayBand } from '../../../src/analysis/feed/feed-bands.ts';
import { type FeedReport, feedReport } from '../../../src/analysis/feed/feed-report.ts';
import type { Design } from '../../../src/design/types.ts';
import { demoWith, linkOf } from './designs.ts';

function curveOf(design: Design, maxOutputA = 1.1) {
  const report: FeedReport = feedReport(design, linkOf(maxOutputA));
  if (!report.dayInputs || !report.day) throw new Error('no cell');
  return { curve: dayCurve(report.dayInputs), day: report.day };
}

describe('the demo', () => {
  const { curve, day } = curveOf(demoWith());

  test('uses, rests, docks: the whole day', () => {
    expect(curve.stretches.map((part) => part.name)).toEqual(['idle', 'playing', 'off', 'dock']);
    expect(curve.stretches.at(-1)).toMatchObject({ fromH: 15, toH: 24 });
    expect(curve.hours).toHaveLength(DAY_POINTS);
  });

  test('falls by what is used and ends as it began', () => {
    const evening = curve.charge[curve.hours.findIndex((hour) => hour >= 15)];
    expect(evening).toBeCloseTo(day.eveningCharge, 6);
    expect(curve.charge[DAY_POINTS - 1]).toBeCloseTo(curve.charge[0], 6);
    for (let i = 1; i < DAY_POINTS; i++) {
      const docked = curve.hours[i - 1] >= 15;
      expect(docked ? curve.charge[i] >= curve.charge[i - 1] : curve.charge[i] <= curve.charge[i - 1]).toBe(true);
    }
  });
});

test('flat is flat: never below zero; more use than there is day is cut off at the dock', () => {
  const { curve } = curveOf(demoWith(['demand.loads[1].hoursPerDay', 20]));
  expect(Math.min(...curve.charge)).toBe(0);
  expect(curve.stretches.at(-2)).toMatchObject({ name: 'playing', toH: 15 });
  const none = curveOf(demoWith(['demand.dock.hoursPerDay', 0])).curve;
  expect(none.stretches.at(-1)?.kind).toBe('off');
});

test('the band holds the curve and stays within an empty and a full cell', () => {
  const { curve } = curveOf(demoWith());
  const band = dayBand(demoWith(), linkOf(1.1), { low: 1, high: 1.2 });
  if (!band) throw new Error('no band');
  for (let i = 0; i < DAY_POINTS; i++) {
    expect(band.low[i]).toBeLessThanOrEqual(curve.charge[i] + 1e-12);
    expect(band.high[i]).toBeGreaterThanOrEqual(curve.charge[i] - 1e-12);
    expect(band.low[i]).toBeGreaterThanOrEqual(0);
    expect(band.high[i]).toBeLessThanOrEqual(1);
  }
  const noCell = demoWith(['demand.loads', [{ name: 'lamp', currentA: 0.2 }]]);
  expect(dayBand(noCell, linkOf(1), { low: 1, high: 1 })).toBeNull();
});
