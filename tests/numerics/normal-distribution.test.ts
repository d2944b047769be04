import { describe, expect, it } from 'vitest';
import {
  complementaryErrorFunction,
  normalProbability,
  normalQuantile,
} from '../../src/numerics/normal-distribution.ts';

// Values by a general-purpose arbitrary-precision library (mpmath, 25 digits), independent of the program.
describe('complementaryErrorFunction', () => {
  it.each([
    [0.1, 0.88753708398171511],
    [1, 0.15729920705028513],
    [2.4, 6.8851389664507857e-4],
    [2.6, 2.360344165293492e-4],
    [5, 1.5374597944280349e-12],
    [20, 5.3958656116079009e-176],
  ])('erfc(%f)', (x, wanted) => {
    expect(Math.abs(complementaryErrorFunction(x) / wanted - 1)).toBeLessThan(2e-14);
    expect(Math.abs(complementaryErrorFunction(-x) - (2 - wanted))).toBeLessThan(1e-15);
  });
  it('states its limits', () => {
    expect(complementaryErrorFunction(Number.POSITIVE_INFINITY)).toBe(0);
    expect(complementaryErrorFunction(Number.NEGATIVE_INFINITY)).toBe(2);
    expect(complementaryErrorFunction(Number.NaN)).toBeNaN();
  });
});

describe('normalQuantile', () => {
  it.each([
    [1e-300, -37.047096299361199],
    [1e-10, -6.3613409024040562],
    [0.025, -1.9599639845400542],
    [0.3, -0.52440051270804078],
    [0.975, 1.9599639845400542],
  ])('quantile of %f', (p, wanted) => {
    expect(Math.abs(normalQuantile(p) / wanted - 1)).toBeLessThan(2e-14);
  });
  it('is the inverse of the probability', () => {
    for (let x = -8; x <= 2; x += 0.37) expect(normalQuantile(normalProbability(x))).toBeCloseTo(x, 11);
    expect(normalQuantile(0.5)).toBeCloseTo(0, 15);
  });
  it('states its limits', () => {
    expect(normalQuantile(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(normalQuantile(1)).toBe(Number.POSITIVE_INFINITY);
    expect(normalQuantile(1.1)).toBeNaN();
  });
});
