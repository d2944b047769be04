import { Matrix, solve } from 'ml-matrix';
import { expect, test } from 'vitest';
import { solveSmallSystem } from '../../src/numerics/solve-small-system.ts';

test('agrees with ml-matrix on seeded random systems of size 1 to 7', () => {
  let seed = 12345;
  const random = () => {
    seed = (seed * 1103515245 + 12345) % 2147483648;
    return seed / 1073741824 - 1;
  };
  for (let size = 1; size <= 7; size++) {
    for (let trial = 0; trial < 20; trial++) {
      const a = Float64Array.from({ length: size * size }, random);
      const b = Float64Array.from({ length: size }, random);
      const expected = solve(
        Matrix.from1DArray(size, size, Array.from(a)),
        Matrix.columnVector(Array.from(b)),
      ).to1DArray();
      expect(solveSmallSystem(a, b, size)).toBe(true);
      for (let i = 0; i < size; i++)
        expect(Math.abs(b[i] - expected[i])).toBeLessThan(1e-9 * Math.max(1, Math.abs(expected[i])));
    }
  }
});

test('says when the matrix is singular or not a number', () => {
  expect(solveSmallSystem(Float64Array.of(1, 2, 2, 4), Float64Array.of(1, 1), 2)).toBe(false);
  expect(solveSmallSystem(Float64Array.of(Number.NaN), Float64Array.of(1), 1)).toBe(false);
  expect(solveSmallSystem(Float64Array.of(0), Float64Array.of(1), 1)).toBe(false);
});
