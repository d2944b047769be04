import { describe, expect, test } from 'vitest';
import { feedBands } from '../../../src/analysis/feed/feed-bands.ts';
import { chargeHours, feedReport } from '../../../src/analysis/feed/feed-report.ts';
import { demoWith, linkOf } from './designs.ts';

describe('the chain of the demo', () => {
  const report = feedReport(demoWith(), linkOf(1.1));

  test('each load with what it asks of the output and its own margin', () => {
    expect(report.loads.map((row) => [row.name, row.outputA])).toEqual([
      ['idle', 0.33],
      ['playing', 0.48],
      ['charging', 0.3],
      ['start-up', 0.75],
    ]);
    expect(report.loads[1].marginPercent).toBeCloseTo(100 * (1.1 / 0.48 - 1), 9);
    expect(report.chain.systemA).toBeCloseTo(0.48, 12);
  });

  test('charges at what is set while the link has it, and shares where it has not', () => {
    expect(report.charge).toMatchObject({ setA: 0.3, chargeA: 0.3, shared: false });
    const short = feedReport(demoWith(), linkOf(0.6)).charge;
    expect(short?.shared).toBe(true);
    expect(short?.chargeA).toBeCloseTo(0.12, 12);
    expect(chargeHours(feedReport(demoWith(), linkOf(0.6)))).toBeGreaterThan(2 * chargeHours(report));
  });

  test('the peak is carried by the link, or by a capacitor that is called what it is', () => {
    expect(report.peaks[0]).toMatchObject({ shortA: 0, capacitor: { verdict: 'none' }, alone: { verdict: 'bulky' } });
    const weak = feedReport(demoWith(['demand.loads[3].durationMs', 500]), linkOf(0.8, 0.6)).peaks[0];
    expect(weak.shortA).toBeCloseTo(0.15, 12);
    // 0.15 A for 0.5 s in 0.25 V less 7.5 mV: by hand 0.3093 F.
    expect(weak.capacitor.capacitanceF).toBeCloseTo(0.3093, 4);
    expect(weak.capacitor.verdict).toBe('absurd');
    expect(weak.inrush.firstA).toBeCloseTo(100, 9);
  });

  test('the converter has its collapse, the empty dock its year', () => {
    expect(report.boost?.collapseW).toBeCloseTo((0.88 * 3.7 * 3.7) / 0.6, 9);
    expect(report.boost).toMatchObject({ askedBy: 'playing' });
    expect(report.boost?.divider?.outputV).toBeCloseTo(5, 9);
    expect(report.emptyDockWh).toBeCloseTo(876.6, 6);
  });
});

test('a design without a chain has its loads and nothing else', () => {
  const design = demoWith(['demand.loads', [{ name: 'lamp', currentA: 0.2 }]], ['demand.away', {}]);
  const report = feedReport(design, { ...linkOf(0.5), peaks: [] });
  expect(report).toMatchObject({ charge: null, boost: null, day: null, standby: null, peaks: [] });
  expect(chargeHours(report)).toBeNaN();
});

describe('bands', () => {
  const design = demoWith();
  const bands = feedBands(design, linkOf(1.1), { low: 1, high: 1.2 });

  test('come from what was not given, and hold the value', () => {
    expect(bands.standbyDays.low).toBeLessThan(bands.standbyDays.value);
    expect(bands.standbyDays.high).toBeGreaterThan(bands.standbyDays.value);
    // The collapse goes with 1 / R, known to 60 %, and with the efficiency, to 0.05: by hand.
    const { value, low, high } = bands.collapseW;
    expect(low).toBeCloseTo(value * (1 - Math.hypot(1 - 1 / 1.6, 0.05 / 0.88)), 6);
    expect(high).toBeCloseTo(value * (1 + Math.hypot(1 / 0.4 - 1, 0.05 / 0.88)), 6);
  });

  test('a link that can fall below the loads widens the charge time', () => {
    const tight = feedBands(design, linkOf(0.8), { low: 0.7, high: 0.9 });
    const width = (band: { low: number; high: number }) => band.high - band.low;
    expect(width(tight.chargeHours)).toBeGreaterThan(1.5 * width(bands.chargeHours));
  });

  test('what was given is exact', () => {
    const cell = 'demand.loads[2].through[1]';
    const given = demoWith([`${cell}.resistanceOhm`, 0.15], ['demand.away.through[0].efficiency', 0.88]);
    const { value, low, high } = feedBands(given, linkOf(1.1), { low: 1.1, high: 1.1 }).collapseW;
    expect([low, high]).toEqual([value, value]);
  });
});
