import { expect, test } from 'vitest';
import { dayCurve } from '../../src/analysis/feed/day-curve.ts';
import { dockedFlow } from '../../src/analysis/feed/docked-flow.ts';
import { feedReport } from '../../src/analysis/feed/feed-report.ts';
import { chargeCsv, dayCsv, flowCsv } from '../../src/charts/feed-csv.ts';
import { dividerLayout } from '../../src/charts/feed-divider-layout.ts';
import { demoWith, linkOf, POINT } from '../analysis/feed/designs.ts';

const none = { series: false, trimmer: false, parallel: false };

test('the divider: one box for each part, numbers apart, grows with what is put in', () => {
  const plain = dividerLayout(none, none, 400);
  expect(plain.parts.map((part) => part.slot)).toEqual(['top-resistor', 'bottom-resistor']);
  const full = { series: true, trimmer: true, parallel: true };
  for (const width of [280, 400, 700]) {
    const all = dividerLayout(full, full, width);
    expect(all.parts).toHaveLength(8);
    expect(all.height).toBeGreaterThan(plain.height);
    const column = all.parts.filter((part) => part.kind !== 'parallel').map((part) => part.y);
    for (let i = 1; i < column.length; i += 1) expect(column[i] - column[i - 1]).toBeGreaterThanOrEqual(40);
    for (const part of all.parts) expect(part.x).toBeLessThan(width - 90);
    // Targets of 24 px: the tap's number and what can be added lie apart.
    expect(all.tapY - all.addY.top).toBeGreaterThanOrEqual(24);
  }
});

test('tables carry units in their heads and every part of the flow', () => {
  const design = demoWith();
  const root = dockedFlow(design, ['playing', 'charging'], POINT);
  const rows = flowCsv(root, { supply: { low: 4.9, high: 5.2 } })
    .trim()
    .split(/\r?\n/);
  expect(rows[0]).toBe('what,part,power_W,low_W,high_W,where');
  expect(rows[1]).toMatch(/^enters,supply,5\.02\d*,4\.9,5\.2,/);
  expect(rows.filter((row) => row.startsWith('heat'))).toHaveLength(9);
  const inputs = feedReport(design, linkOf(1.1)).dayInputs;
  if (!inputs) throw new Error('the demo has a cell');
  const day = dayCsv(dayCurve(inputs), null).trim().split(/\r?\n/);
  expect(day[0]).toBe('time_h,what,charge_fraction,low_fraction,high_fraction');
  expect(day).toHaveLength(194);
  const map = chargeCsv({
    xMm: Float64Array.of(0, 5),
    yMm: Float64Array.of(0),
    hours: Float64Array.of(6, Number.POSITIVE_INFINITY),
    fullHours: 6,
    fullBand: null,
    atXMm: 0,
    atYMm: 0,
  });
  expect(map.trim().split(/\r?\n/)).toEqual(['x_mm,y_mm,charge_time_h', '0,0,6', '5,0,']);
});
