import { expect, it } from 'vitest';
import {
  addProduct,
  addTransposedProduct,
  dotProduct,
  multiplyTransposed,
  multiplyVector,
} from '../../src/numerics/dense.ts';

const a = Float64Array.of(1, 2, 3, 4, 5, 6); // 2 x 3
const b = Float64Array.of(1, 0, 2, -1, 3, 1); // 3 x 2

it('multiplies matrices', () => {
  const out = Float64Array.of(1, 1, 1, 1);
  addProduct(a, b, 2, 3, 2, 2, out);
  expect([...out]).toEqual([1 + 2 * 14, 1 + 2 * 1, 1 + 2 * 32, 1 + 2 * 1]);
  const square = new Float64Array(9);
  addTransposedProduct(a, a, 2, 3, 3, 1, square);
  expect([...square]).toEqual([17, 22, 27, 22, 29, 36, 27, 36, 45]);
});

it('multiplies vectors', () => {
  const out = new Float64Array(2);
  multiplyVector(a, Float64Array.of(1, -1, 2), 2, 3, out);
  expect([...out]).toEqual([5, 11]);
  const back = new Float64Array(3);
  multiplyTransposed(a, Float64Array.of(1, -1), 2, 3, back);
  expect([...back]).toEqual([-3, -3, -3]);
  expect(dotProduct(Float64Array.of(1, 2, 3), Float64Array.of(4, 5, 6))).toBe(32);
});
