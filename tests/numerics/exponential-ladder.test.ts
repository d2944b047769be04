import { expect, test } from 'vitest';
import { exponentialLadder } from '../../src/numerics/exponential-ladder.ts';

test('rotation: every level is the closed form minus the identity', () => {
  const omega = 3;
  const levels = 20;
  const finest = 1e-5;
  const e = exponentialLadder(Float64Array.of(0, -omega, omega, 0), 2, 2, finest, levels, new Float64Array(levels * 4));
  for (let level = 0; level < levels; level++) {
    const angle = omega * finest * 2 ** level;
    expect(Math.abs(e[level * 4] - -2 * Math.sin(angle / 2) ** 2)).toBeLessThan(1e-13 * Math.min(1, angle));
    expect(Math.abs(e[level * 4 + 1] + Math.sin(angle))).toBeLessThan(1e-13 * Math.min(1, angle));
  }
});

test('stiff decay beside slow growth, with a constant carried as a state', () => {
  // x' = -a x + b, y' = c y; the third row is the constant 1.
  const a = 5e9;
  const b = 2e9;
  const c = 0.1;
  const levels = 45;
  const finest = 1e-13;
  const matrix = Float64Array.of(-a, 0, b, 0, c, 0, 0, 0, 0);
  const e = exponentialLadder(matrix, 3, 2, finest, levels, new Float64Array(levels * 9));
  for (const level of [0, 10, 20, 30, 44]) {
    const t = finest * 2 ** level;
    const block = e.subarray(level * 9, level * 9 + 9);
    expect(Math.abs(block[0] / Math.expm1(-a * t) - 1)).toBeLessThan(1e-12);
    expect(Math.abs(block[2] / ((-b / a) * Math.expm1(-a * t)) - 1)).toBeLessThan(1e-12);
    expect(Math.abs(block[4] / Math.expm1(c * t) - 1)).toBeLessThan(1e-12);
    expect([block[1], block[3], block[5], block[6], block[7], block[8]]).toEqual([0, 0, 0, 0, 0, 0]);
  }
});

test('levels compose: E(2t) = 2 E(t) + E(t)^2 against a direct start at the coarser step', () => {
  const matrix = Float64Array.of(-1, 2, 0.5, -3, -0.2, 1, 0, 4, -2);
  const fine = exponentialLadder(matrix, 3, 3, 1e-6, 18, new Float64Array(18 * 9));
  const coarse = exponentialLadder(matrix, 3, 3, 1e-6 * 2 ** 17, 1, new Float64Array(9));
  for (let i = 0; i < 9; i++) expect(Math.abs(fine[17 * 9 + i] - coarse[i])).toBeLessThan(1e-13);
});
