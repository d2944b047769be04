import { expect, test } from 'vitest';
import { rayLength } from '../../../src/analysis/pair/ray-length.ts';

const square = (half: number, x = 0, y = 0) =>
  Float64Array.of(x - half, y - half, x + half, y - half, x + half, y + half, x - half, y + half);

test('way to the border: straight on, aslant, and none from outside', () => {
  expect(rayLength([square(3)], 1, 0)).toBeCloseTo(3, 12);
  expect(rayLength([square(3)], -Math.SQRT1_2, Math.SQRT1_2)).toBeCloseTo(3 * Math.SQRT2, 12);
  expect(rayLength([square(3, 5)], 1, 0)).toBe(0);
});

test('the nearest border counts, a hole included', () => {
  expect(rayLength([square(9), square(1, 4)], 1, 0)).toBeCloseTo(3, 12);
});
