import { describe, expect, it } from 'vitest';
import {
  chebyshevPoints,
  evaluateChebyshev,
  evaluateChebyshevTensor,
  fitChebyshev,
  fitChebyshevTensor,
  heldOutError,
  tailBound,
  tensorPoints,
  tensorTailBound,
} from '../../src/numerics/chebyshev.ts';
import { randomSource } from '../../src/numerics/random.ts';

const seriesOf = (f: (x: number) => number, count: number, lower: number, upper: number) =>
  fitChebyshev(
    chebyshevPoints(count, lower, upper).map((x) => f(x)),
    lower,
    upper,
  );

describe('one variable', () => {
  it('puts points at the extrema, ends included, nested by doubling', () => {
    expect([...chebyshevPoints(3, 2, 4)]).toEqual([2, 3, 4]);
    expect([...chebyshevPoints(1, 2, 4)]).toEqual([3]);
    const coarse = chebyshevPoints(9, -1, 3);
    const fine = chebyshevPoints(17, -1, 3);
    coarse.forEach((x, k) => {
      expect(Math.abs(x - fine[2 * k]!)).toBeLessThan(1e-15 * 4);
    });
  });

  it('reproduces polynomials, and T_3 as the coefficient 1', () => {
    const { coefficients } = seriesOf((x) => 4 * x ** 3 - 3 * x, 6, -1, 1);
    [0, 0, 0, 1, 0, 0].forEach((value, k) => {
      expect(coefficients[k]).toBeCloseTo(value, 14);
    });
    const series = seriesOf((x) => 2 - x + x ** 5, 6, -3, 7);
    for (const x of [-3, -1.7, 0, 4.4, 7]) {
      expect(Math.abs(evaluateChebyshev(series, x) - (2 - x + x ** 5))).toBeLessThan(1e-12 * 7 ** 5);
    }
  });

  // Coefficients of exp are 2 I_k(1): Abramowitz and Stegun (1964), table 9.8 and 9.9 (from memory: I_0(1) = 1.26606588,
  // I_1(1) = 0.5651591, I_2(1) = 0.13574767).
  it('finds the published coefficients of exp', () => {
    const { coefficients } = seriesOf(Math.exp, 20, -1, 1);
    expect(coefficients[0]).toBeCloseTo(1.26606588, 8);
    expect(coefficients[1]).toBeCloseTo(2 * 0.5651591, 7);
    expect(coefficients[2]).toBeCloseTo(2 * 0.13574767, 7);
  });

  it.each([
    ['log', (x: number) => Math.log(x), 1, 9],
    ['Runge, even', (x: number) => 1 / (1 + 25 * x * x), -1, 1],
    ['odd', (x: number) => Math.atan(3 * x), -1, 1],
    ['decay', (x: number) => Math.exp(-x), 0, 12],
  ] as const)('bounds the error of %s from its coefficients', (_, f, lower, upper) => {
    for (const count of [6, 9, 12, 17, 24, 40]) {
      const series = seriesOf(f, count, lower, upper);
      let error = 0;
      for (let k = 0; k <= 500; k++) {
        const x = lower + ((upper - lower) * k) / 500;
        error = Math.max(error, Math.abs(evaluateChebyshev(series, x) - f(x)));
      }
      expect(error).toBeLessThan(tailBound(series.coefficients) + 1e-14);
    }
  });

  it('does not bound what has not begun to decay', () => {
    expect(tailBound([1, 1, 1])).toBe(Number.POSITIVE_INFINITY);
    expect(tailBound([1, 0.1, 0.1, 0.1, 0.1])).toBe(Number.POSITIVE_INFINITY);
    expect(tailBound([1, 0, 0, 0, 0])).toBe(0);
  });

  it('keeps one point as a constant', () => {
    expect(
      evaluateChebyshev(
        seriesOf(() => 5, 1, 0, 1),
        0.3,
      ),
    ).toBe(5);
  });
});

describe('several variables', () => {
  const lower = [-1, 0.5, 2];
  const upper = [2, 3, 2];
  const counts = [14, 16, 1];
  const f = (p: ArrayLike<number>) => Math.exp(-0.4 * p[0]!) * Math.sqrt(p[1]!);
  const g = (p: ArrayLike<number>) => Math.sin(p[0]! * p[1]!);
  const points = tensorPoints(lower, upper, counts);
  const total = points.length / 3;
  const values = new Float64Array(2 * total);
  for (let k = 0; k < total; k++) {
    const point = points.subarray(3 * k, 3 * k + 3);
    values[2 * k] = f(point);
    values[2 * k + 1] = g(point);
  }
  const tensor = fitChebyshevTensor(values, lower, upper, counts, 2);

  it('goes through its points', () => {
    for (let k = 0; k < total; k += 7) {
      const out = evaluateChebyshevTensor(tensor, points.subarray(3 * k, 3 * k + 3));
      expect(out[0]).toBeCloseTo(values[2 * k]!, 13);
      expect(out[1]).toBeCloseTo(values[2 * k + 1]!, 13);
    }
  });

  it('stays within its tail bound at held-out points', () => {
    const random = randomSource(31);
    const held = new Float64Array(300);
    for (let k = 0; k < 300; k++) held[k] = lower[k % 3]! + (upper[k % 3]! - lower[k % 3]!) * random.uniform();
    for (const [output, exact] of [f, g].entries()) {
      const error = heldOutError((p) => evaluateChebyshevTensor(tensor, p)[output]!, exact, held, 3);
      expect(error).toBeGreaterThan(1e-15);
      expect(error).toBeLessThan(tensorTailBound(tensor, output));
      expect(tensorTailBound(tensor, output)).toBeLessThan(1e-3);
    }
  });

  it('passes NaN on', () => {
    expect(
      heldOutError(
        () => Number.NaN,
        () => 0,
        Float64Array.of(1, 2),
        1,
      ),
    ).toBeNaN();
  });
});
