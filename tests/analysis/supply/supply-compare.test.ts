import { describe, expect, test } from 'vitest';
import { difference, reachDifference } from '../../../src/analysis/supply/supply-compare.ts';
import { around, change, report } from './reports.ts';

describe('what errs alike does not count against a difference', () => {
  const coil = 'transmitter.coil.inductanceUh';
  test('the same coil under both', () => {
    const a = report(5, { mostA: 1 }, { changes: [change(coil, 0.2)] });
    const b = report(9, { mostA: 1.1 }, { changes: [change(coil, 0.22)] });
    const at = difference(a, b, 'maxOutputA');
    expect(at.value).toBeCloseTo(0.1, 12);
    expect(at.halfWidth).toBeCloseTo(0.02, 12);
    expect(at.clear).toBe(true);
  });
  test('each supply errs on its own', () => {
    const volts = 'transmitter.drive.supplyV';
    const a = report(5, { mostA: 1 }, { changes: [change(volts, 0.06)] });
    const b = report(9, { mostA: 1.09 }, { changes: [change(volts, 0.08)] });
    const at = difference(a, b, 'maxOutputA');
    expect(at.halfWidth).toBeCloseTo(0.1, 12);
    expect(at.clear).toBe(false);
  });
  test('inputs add up as root sum of squares, one sign reversed counts in full', () => {
    const a = report(5, {}, { changes: [change('x', 0, 0.03, 3), change('y', 0, 0.04, 0)] });
    const b = report(9, {}, { changes: [change('x', 0, 0, 0), change('y', 0, -0.04, 0)] });
    expect(difference(a, b, 'efficiency').halfWidth).toBeCloseTo(Math.hypot(0.03, 0.08), 12);
    expect(difference(a, b, 'receiverC').halfWidth).toBeCloseTo(3, 12);
  });
});

test('a difference nobody would act on is none, however well it is known', () => {
  expect(difference(report(5, { efficiency: 0.75 }), report(9, { efficiency: 0.757 }), 'efficiency').clear).toBe(false);
  expect(difference(report(5, { receiverC: 40 }), report(9, { receiverC: 41.5 }), 'receiverC').clear).toBe(false);
  expect(difference(report(5, { efficiency: 0.75 }), report(9, { efficiency: 0.78 }), 'efficiency').clear).toBe(true);
});

test('reaches differ beyond the half-widths that face each other', () => {
  expect(reachDifference(around(8, 1), around(10, 1))).toEqual({ value: 2, halfWidth: Math.hypot(1, 1), clear: true });
  expect(reachDifference(around(8, 2), around(10, 2)).clear).toBe(false);
  expect(reachDifference(around(8), around(8.4)).clear).toBe(false);
  expect(reachDifference({ value: 10, low: 9.9, high: 20 }, { value: 8, low: 2, high: 8.1 }).clear).toBe(true);
});
