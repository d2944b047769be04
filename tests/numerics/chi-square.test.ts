import { expect, test } from 'vitest';
import { chiSquareTail } from '../../src/numerics/chi-square.ts';

/** Percentage points of chi-square, Abramowitz and Stegun table 26.8 (from memory; as printed in any statistics handbook). */
const POINTS: readonly (readonly [degrees: number, upper: number, value: number])[] = [
  [1, 0.05, 3.84146],
  [2, 0.05, 5.99147],
  [5, 0.01, 15.0863],
  [10, 0.05, 18.307],
  [10, 0.95, 3.9403],
  [20, 0.05, 31.4104],
  [30, 0.5, 29.336],
  [30, 0.001, 59.7031],
];

test('upper tail at tabulated percentage points', () => {
  for (const [degrees, upper, value] of POINTS) {
    expect(Math.abs(chiSquareTail(value, degrees) / upper - 1), `${degrees}, ${upper}`).toBeLessThan(2e-4);
  }
});

test('two degrees of freedom: exp(-x/2) exactly, far into the tail', () => {
  for (const x of [0.01, 1, 4, 20, 50]) expect(chiSquareTail(x, 2)).toBeCloseTo(Math.exp(-x / 2), 13);
  expect(chiSquareTail(100, 2) / Math.exp(-50)).toBeCloseTo(1, 10);
});

test('edges', () => {
  expect(chiSquareTail(0, 5)).toBe(1);
  expect(chiSquareTail(-1, 5)).toBe(1);
  expect(chiSquareTail(Number.NaN, 5)).toBeNaN();
  expect(chiSquareTail(1e5, 5)).toBe(0);
});
