import { describe, expect, it } from 'vitest';
import { exactInterval, incompleteBeta, logGamma, wilsonInterval } from '../../src/numerics/proportion-interval.ts';

// Values by general-purpose libraries (mpmath 25 digits; SciPy binomtest), independent of the program.
describe('proportion intervals', () => {
  it.each([
    [8, 10, 0.4439045376923585, 0.9747892736731665, 0.4901624715366418, 0.9433178485456248],
    [50, 1000, 0.03733539760466063, 0.06539048791549365, 0.03813026239274881, 0.06531382024425081],
    [1999, 2000, 0.9972173601653276, 0.9999873411761293, 0.9971731374967339, 0.9999117322692945],
  ])('%i of %i', (hits, trials, low, high, wilsonLow, wilsonHigh) => {
    const exact = exactInterval(hits, trials);
    expect(Math.abs(exact.low - low)).toBeLessThan(1e-10);
    expect(Math.abs(exact.high - high)).toBeLessThan(1e-10);
    const wilson = wilsonInterval(hits, trials);
    expect(Math.abs(wilson.low - wilsonLow)).toBeLessThan(1e-13);
    expect(Math.abs(wilson.high - wilsonHigh)).toBeLessThan(1e-13);
  });
  it('closes at none and at all: the rule of 1 - (alpha/2)^(1/n)', () => {
    expect(exactInterval(0, 20)).toEqual({ low: 0, high: expect.closeTo(1 - 0.025 ** (1 / 20), 11) });
    expect(exactInterval(20, 20)).toEqual({ low: expect.closeTo(0.025 ** (1 / 20), 11), high: 1 });
    expect(wilsonInterval(0, 20).low).toBe(0);
    expect(wilsonInterval(20, 20).high).toBe(1);
  });
});

describe('incompleteBeta and logGamma', () => {
  it.each([
    [0.3, 2, 5, 0.579825],
    [0.01, 0.5, 0.5, 0.06376856085851985],
    [0.9, 30, 4, 0.5769436641256925],
  ])('I_%f(%f, %f)', (x, a, b, wanted) => {
    expect(Math.abs(incompleteBeta(x, a, b) / wanted - 1)).toBeLessThan(1e-12);
  });
  it('is a power for b = 1, also far out', () => {
    expect(incompleteBeta(0.999, 1000, 1)).toBeCloseTo(0.999 ** 1000, 12);
    expect(incompleteBeta(1e-6, 1, 1e6)).toBeCloseTo(-Math.expm1(1e6 * Math.log1p(-1e-6)), 12);
  });
  it('refuses what is outside', () => {
    expect(incompleteBeta(1.1, 2, 2)).toBeNaN();
    expect(incompleteBeta(0.5, 0, 2)).toBeNaN();
  });
  it('logGamma: factorials and the half', () => {
    expect(logGamma(11)).toBeCloseTo(Math.log(3628800), 13);
    expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.PI) / 2, 14);
  });
});
