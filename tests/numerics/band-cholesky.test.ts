import { expect, it } from 'vitest';
import { addToBand, bandBackward, bandFactor, bandForward, bandMatrix } from '../../src/numerics/band-cholesky.ts';

it('solves a banded definite system', () => {
  const n = 20;
  const band = 3;
  const entry = (i: number, j: number) => (i === j ? 8 : Math.abs(i - j) <= band ? -1 / (1 + Math.abs(i - j)) : 0);
  const matrix = bandMatrix(n, band);
  for (let i = 0; i < n; i++) for (let j = Math.max(0, i - band); j <= i; j++) addToBand(matrix, j, i, entry(i, j));
  const x = Float64Array.from({ length: n }, (_, i) => Math.sin(i + 1));
  const b = x.map((_, i) => x.reduce((sum, v, j) => sum + entry(i, j) * v, 0));
  expect(bandFactor(matrix)).toBe(true);
  bandForward(matrix, b);
  bandBackward(matrix, b);
  for (let i = 0; i < n; i++) expect(Math.abs(b[i]! - x[i]!)).toBeLessThan(1e-13);
});

it('skips leading zeros of the right side and refuses an indefinite matrix', () => {
  const matrix = bandMatrix(4, 1);
  for (let i = 0; i < 4; i++) addToBand(matrix, i, i, 2);
  for (let i = 1; i < 4; i++) addToBand(matrix, i, i - 1, -1);
  bandFactor(matrix);
  const whole = Float64Array.of(0, 0, 1, 2);
  const short = whole.slice();
  bandForward(matrix, whole);
  bandForward(matrix, short, 2);
  expect([...short]).toEqual([...whole]);
  const bad = bandMatrix(2, 1);
  addToBand(bad, 1, 0, 1);
  expect(bandFactor(bad)).toBe(false);
});
