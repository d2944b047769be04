import { expect, test } from 'vitest';
import { perMillimetre } from '../../../src/analysis/hold/clearance-words.ts';
import type { LotteryReport } from '../../../src/analysis/hold/lottery-report.ts';

const lottery = (perMm: number, half: number) =>
  ({
    clearanceMm: 1.02,
    curve: {
      clearanceMm: Float64Array.of(0.5, 1, 2),
      perMm: Float64Array.of(0, perMm, 0),
      perMmHalf: Float64Array.of(0, half, 0),
    },
  }) as unknown as LotteryReport;
const told = (of: LotteryReport) => perMillimetre(of).replace(/\u00a0/g, ' ');

test('what a millimetre gains or loses, at the nearest clearance of the curve, with the drawing’s interval', () => {
  expect(told(lottery(-0.023, 0.004))).toBe(
    'About 1.02 mm of clearance each millimetre taken away gains 2.3 ± 0.4 % of all placements.',
  );
  expect(told(lottery(0.031, 0.004))).toContain('loses 3.1 ± 0.4 %');
});

test('a slope within its interval is told as none', () => {
  expect(told(lottery(-0.002, 0.004))).toBe(
    'About 1.02 mm of clearance another millimetre changes no more than 0.6 % of all placements.',
  );
});

test('nothing without a recess', () => {
  expect(perMillimetre({ ...lottery(0, 0), curve: null })).toBe('');
});
