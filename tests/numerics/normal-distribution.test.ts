import { describe, expect, it } from 'vitest';
import {
  complementaryErrorFunction,
  normalProbability,
  normalQuantile,
} from '../../src/numerics/normal-distribution.ts';

// Values by a general-purpose arbitrary-precision library (mpmath, 25 digits), independent of the program.
describe('complementaryErrorFunction', () => {
  it.each([
    [0.1, 0.8875370839817152],
    [1, 0.15729920705028513],
    [2.4, 0.0006885138966450786],
    [2.6, 0.0002360344165293492],
    [5, 1.537459794428035e-12],
    [20, 5.395865611607901e-176],
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
    [1e-300, -37.0470962993612],
    [1e-10, -6.361340902404057],
    [0.025, -1.9599639845400543],
    [0.3, -0.5244005127080408],
    [0.975, 1.9599639845400543],
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
