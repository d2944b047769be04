import { describe, expect, test } from 'vitest';
import { inrushOf, peakCapacitor } from '../../../src/analysis/feed/start-up.ts';
import { chainCases, within } from './chain-cases.ts';

interface Inputs {
  readonly stepA: number;
  readonly durationUs: number;
  readonly droopV: number;
  readonly resistanceOhm: number;
}

test.each(chainCases<Inputs>('start-up-capacitor'))('check value: $id', ({ inputs, expected, tolerance }) => {
  const { capacitanceF, verdict } = peakCapacitor({ ...inputs, durationS: inputs.durationUs / 1e6 });
  expect(Math.abs(1e6 * capacitanceF - expected)).toBeLessThanOrEqual(within(expected, tolerance));
  expect(verdict).toBe('ordinary');
});

describe('sizes are called what they are', () => {
  const step = { stepA: 1, durationS: 0.002, droopV: 0.25, resistanceOhm: 0 };

  test('8 mF for 2 ms is bulky, half a second needs farads and is absurd', () => {
    expect(peakCapacitor(step)).toEqual({ capacitanceF: 0.008, verdict: 'bulky' });
    expect(peakCapacitor({ ...step, durationS: 0.5 })).toEqual({ capacitanceF: 2, verdict: 'absurd' });
  });

  test('its own resistance can break the dip by itself', () => {
    expect(peakCapacitor({ ...step, resistanceOhm: 0.25 })).toEqual({
      capacitanceF: Number.POSITIVE_INFINITY,
      verdict: 'impossible',
    });
  });

  test('no step, no capacitor', () => {
    expect(peakCapacitor({ ...step, stepA: 0 })).toEqual({ capacitanceF: 0, verdict: 'none' });
    expect(peakCapacitor({ ...step, durationS: 0 }).verdict).toBe('none');
  });
});

test('filling 2 F to 5 V: 100 A at first through 50 mohm, 10 s at 1 A, 25 J', () => {
  expect(inrushOf(2, 5, 1, 0.05)).toEqual({ firstA: 100, fillS: 10, energyJ: 25 });
  expect(inrushOf(2, 5, 0, 0)).toMatchObject({ firstA: Number.POSITIVE_INFINITY, fillS: Number.POSITIVE_INFINITY });
});
