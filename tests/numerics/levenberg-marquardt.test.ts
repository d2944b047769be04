import { expect, test } from 'vitest';
import { huberSquare, type LeastSquaresProblem, leastSquares } from '../../src/numerics/levenberg-marquardt.ts';

/** A curve-fitting problem with a numeric Jacobian. */
function curve(
  model: (x: number, p: Float64Array) => number,
  data: readonly (readonly [number, number])[],
  variables: number,
): LeastSquaresProblem {
  const evaluate = (p: Float64Array, out: Float64Array) => {
    data.forEach(([x, y], i) => {
      out[i] = model(x, p) - y;
    });
  };
  return {
    variables,
    residuals: data.length,
    evaluate,
    jacobian(p, _at, out) {
      const up = new Float64Array(data.length);
      const down = new Float64Array(data.length);
      for (let j = 0; j < variables; j++) {
        const h = 1e-6 * (Math.abs(p[j]) + 1e-4);
        const moved = p.slice();
        moved[j] = p[j] + h;
        evaluate(moved, up);
        moved[j] = p[j] - h;
        evaluate(moved, down);
        for (let i = 0; i < data.length; i++) out[i * variables + j] = (up[i] - down[i]) / (2 * h);
      }
    },
  };
}

/** Misra1a, NIST Statistical Reference Datasets, nonlinear regression (data and certified values from memory). */
const MISRA1A: readonly (readonly [number, number])[] = [
  [77.6, 10.07],
  [114.9, 14.73],
  [141.1, 17.94],
  [190.8, 23.93],
  [239.9, 29.61],
  [289.0, 35.18],
  [332.8, 40.02],
  [378.4, 44.82],
  [434.8, 50.76],
  [477.3, 55.05],
  [536.8, 61.01],
  [593.1, 66.4],
  [689.1, 75.47],
  [760.0, 81.78],
];

test('NIST StRD Misra1a from the nearer start: certified parameters and residual sum of squares', () => {
  // Scaled so that a step of one is natural: b1 / 100, b2 * 1000.
  const problem = curve((x, p) => 100 * p[0] * (1 - Math.exp(-1e-3 * p[1] * x)), MISRA1A, 2);
  for (const start of [
    [2.5, 0.5],
    [5, 0.1],
  ]) {
    const found = leastSquares(problem, Float64Array.from(start), {
      maxIterations: 400,
      stepTolerance: 1e-10,
      decreaseTolerance: 0,
    });
    expect(found.converged).toBe(true);
    expect(100 * found.x[0]).toBeCloseTo(238.94212918, 4);
    expect(1e-3 * found.x[1]).toBeCloseTo(5.5015643181e-4, 9);
    expect(found.sum).toBeCloseTo(0.12455138894, 8);
  }
});

test("Rosenbrock's valley", () => {
  const problem: LeastSquaresProblem = {
    variables: 2,
    residuals: 2,
    evaluate(x, out) {
      out[0] = 10 * (x[1] - x[0] * x[0]);
      out[1] = 1 - x[0];
    },
    jacobian(x, _at, out) {
      out.set([-20 * x[0], 10, -1, 0]);
    },
  };
  const found = leastSquares(problem, Float64Array.of(-1.2, 1), {
    maxIterations: 200,
    decreaseTolerance: 0,
    stepTolerance: 1e-9,
  });
  expect(found.x[0]).toBeCloseTo(1, 8);
  expect(found.x[1]).toBeCloseTo(1, 8);
  const short = leastSquares(problem, Float64Array.of(-1.2, 1), { maxIterations: 3 });
  expect(short.converged).toBe(false);
});

test("with Huber's loss one wild value hardly moves the mean; the rows beyond huberRows keep their squares", () => {
  const data = [1.0, 1.1, 0.9, 1.05, 0.95, 40];
  const problem: LeastSquaresProblem = {
    variables: 1,
    residuals: data.length + 1,
    evaluate(x, out) {
      data.forEach((value, i) => {
        out[i] = (x[0] - value) / 0.1;
      });
      out[data.length] = 0;
    },
    jacobian(_x, _at, out) {
      out.fill(10);
      out[data.length] = 0;
    },
  };
  const plain = leastSquares(problem, Float64Array.of(0));
  const robust = leastSquares(problem, Float64Array.of(0), { huber: 1.5, huberRows: data.length });
  expect(plain.x[0]).toBeCloseTo(45 / 6, 4);
  // Five values pull back by (x - 1)/0.1 each against the constant 1.5 of the wild one.
  expect(robust.x[0]).toBeCloseTo(1 + (1.5 * 0.1) / 5, 3);
  expect(huberSquare(3, 2)).toBe(8);
});

test('a forbidden start is returned as it is, not converged', () => {
  const problem: LeastSquaresProblem = {
    variables: 1,
    residuals: 1,
    evaluate: (_x, out) => {
      out[0] = Number.NaN;
    },
    jacobian: (_x, _at, out) => out.fill(Number.NaN),
  };
  expect(leastSquares(problem, Float64Array.of(1)).converged).toBe(false);
});

test('the bound is kept', () => {
  const problem: LeastSquaresProblem = {
    variables: 1,
    residuals: 1,
    evaluate: (x, out) => {
      out[0] = x[0] - 10;
    },
    jacobian: (_x, _at, out) => out.fill(1),
  };
  expect(leastSquares(problem, Float64Array.of(0), { bound: 4 }).x[0]).toBe(4);
});
