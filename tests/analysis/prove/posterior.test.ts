import { describe, expect, test } from 'vitest';
import type { Bench } from '../../../src/analysis/prove/bench.ts';
import { combinationWords, identify } from '../../../src/analysis/prove/identify.ts';
import { leaveOneOut } from '../../../src/analysis/prove/leave-one-out.ts';
import { distinctOptima, keptOptima } from '../../../src/analysis/prove/optima.ts';
import type { Optimum } from '../../../src/analysis/prove/optimum.ts';
import { drawFrom, posteriorOf, varianceAlong } from '../../../src/analysis/prove/posterior.ts';
import { randomSource } from '../../../src/numerics/random.ts';
import { solveSmallSystem } from '../../../src/numerics/solve-small-system.ts';

const parameter = (name: string, group = 'resistance', id = 'supplyResistance') =>
  ({
    id,
    pose: null,
    name,
    group,
    path: null,
    unit: '1',
    prior: 1,
    kind: 'ratio',
    sigma: 0.1,
    because: '',
  }) as Bench['parameters'][number];

/** A linear bench: measured y = A z + noise of one, each reading one number and a limit that never counts. */
function linear(
  slopes: readonly (readonly number[])[],
  measured: readonly number[],
): { bench: Bench; optimum: Optimum } {
  const n = slopes[0].length;
  // (A^T A + 1) z = A^T y
  const matrix = new Float64Array(n * n);
  const z = new Float64Array(n);
  slopes.forEach((row, i) => {
    for (let a = 0; a < n; a++) {
      z[a] += row[a] * measured[i];
      for (let b = 0; b < n; b++) matrix[a * n + b] += row[a] * row[b];
    }
  });
  for (let a = 0; a < n; a++) matrix[a * n + a] += 1;
  solveSmallSystem(matrix, z, n);
  const residuals = new Float64Array(2 * slopes.length);
  const jacobian = new Float64Array(2 * slopes.length * n);
  slopes.forEach((row, i) => {
    residuals[2 * i] = row.reduce((sum, s, a) => sum + s * z[a], 0) - measured[i];
    jacobian.set(row, 2 * i * n);
  });
  const dataChi2 = residuals.reduce((sum, r) => sum + r * r, 0);
  const chi2 = dataChi2 + z.reduce((sum, v) => sum + v * v, 0);
  const bench = {
    parameters: slopes[0].map((_, a) => parameter(`value ${a}`)),
    readings: slopes.map((_, index) => ({ index, observed: [{}], regulated: true })),
    poses: [],
  } as unknown as Bench;
  return { bench, optimum: { z, chi2, dataChi2, residuals, jacobian } as unknown as Optimum };
}

const SLOPES = [
  [3, 3, 0],
  [2, 2.2, 0],
  [0, 0, 4],
  [0.1, 0, 0],
];
const MEASURED = [1.2, 0.4, -2, 0.3];

test('the covariance is that of the linear model with its priors', () => {
  const { bench, optimum } = linear(SLOPES, MEASURED);
  const { covariance, sd, widened } = posteriorOf(bench, optimum, Number.POSITIVE_INFINITY);
  expect(widened).toBe(1);
  // The third value stands alone: 1 / (16 + 1).
  expect(sd[2] ** 2).toBeCloseTo(1 / 17, 12);
  // The difference of the first two is hardly touched, their sum is.
  expect(varianceAlong(covariance, [Math.SQRT1_2, -Math.SQRT1_2, 0])).toBeGreaterThan(0.9);
  expect(varianceAlong(covariance, [Math.SQRT1_2, Math.SQRT1_2, 0])).toBeLessThan(0.05);
});

test('draws have the covariance they are drawn from', () => {
  const { bench, optimum } = linear(SLOPES, MEASURED);
  const { factor, covariance } = posteriorOf(bench, optimum, Number.POSITIVE_INFINITY);
  const random = randomSource(5);
  let cross = 0;
  const count = 20000;
  for (let k = 0; k < count; k++) {
    const z = drawFrom(optimum.z, factor, random);
    cross += (z[0] - optimum.z[0]) * (z[1] - optimum.z[1]);
  }
  expect(cross / count / covariance[1]).toBeCloseTo(1, 1);
});

test('a misfit widens the errors', () => {
  const { bench, optimum } = linear(SLOPES, [30, -30, 12, 9]);
  expect(posteriorOf(bench, optimum, Number.POSITIVE_INFINITY).widened).toBeGreaterThan(3);
});

test('leaving one out without fitting again equals fitting again, for a linear model', () => {
  const { bench, optimum } = linear(SLOPES, MEASURED);
  const left = leaveOneOut(bench, optimum, posteriorOf(bench, optimum, Number.POSITIVE_INFINITY));
  MEASURED.forEach((value, out) => {
    const rest = linear(
      SLOPES.filter((_, i) => i !== out),
      MEASURED.filter((_, i) => i !== out),
    );
    const { covariance } = posteriorOf(rest.bench, rest.optimum, Number.POSITIVE_INFINITY);
    const foretold = SLOPES[out].reduce((sum, s, a) => sum + s * rest.optimum.z[a], 0);
    const spread = Math.sqrt(1 + varianceAlong(covariance, SLOPES[out]));
    expect(left[out].distance).toBeCloseTo(Math.abs(value - foretold) / spread, 9);
  });
});

describe('what is fixed', () => {
  test('directions, turned so that each has few parts', () => {
    const { bench, optimum } = linear(SLOPES, MEASURED);
    const posterior = posteriorOf(bench, optimum, Number.POSITIVE_INFINITY);
    const { singularValues, combinations } = identify(bench.parameters, optimum, posterior);
    expect(singularValues).toHaveLength(3);
    expect(singularValues[0]).toBeGreaterThan(singularValues[1]);
    expect(combinations.map(({ words }) => words).sort()).toEqual(['the sum of value 1 and value 0', 'value 2']);
    expect(combinations.every(({ shrink }) => shrink < 0.5)).toBe(true);
  });
  test('words for the usual combinations', () => {
    const resistance = [
      { parameter: parameter('supply resistance'), share: 0.8 },
      { parameter: parameter('bridge resistance'), share: 0.5 },
    ];
    expect(combinationWords(resistance)).toBe('the sum of supply resistance and bridge resistance');
    const tuning = [
      { parameter: parameter('capacitor', 'tuning', 'receiverCapacitance'), share: 0.7 },
      { parameter: parameter('inductance', 'tuning', 'receiverInductance'), share: 0.7 },
    ];
    expect(combinationWords(tuning)).toMatch(/^the receiver's resonance/);
    expect(combinationWords([tuning[0], { ...resistance[0], share: -0.6 }])).toBe(
      'capacitor against supply resistance',
    );
    expect(combinationWords([tuning[0]])).toBe('capacitor');
  });
});

describe('optima', () => {
  const rough = (start: number, chi2: number, ...z: number[]) => ({
    start,
    chi2,
    z: Float64Array.from(z),
    converged: true,
  });
  test('ends at the same place count once; a ridge between two keeps them apart', () => {
    const well = (z: Float64Array) => 10 * (z[0] * z[0] - 1) ** 2;
    const found = distinctOptima([rough(0, 4, 1), rough(1, 3, -1), rough(2, 3.9, 1.1)], well);
    expect(found.map(({ starts }) => starts)).toEqual([1, 2]);
    expect(found[0].chi2).toBe(3);
    // Without a ridge they are one.
    expect(distinctOptima([rough(0, 4, 1), rough(1, 3, -1)], () => 0)).toHaveLength(1);
  });
  test('weights by chi-square and volume; far worse ones are dropped', () => {
    const at = (chi2: number, z: number, logVolume: number) => ({
      starts: 1,
      optimum: { chi2, z: Float64Array.of(z) } as unknown as Optimum,
      posterior: { logVolume } as ReturnType<typeof posteriorOf>,
    });
    const kept = keptOptima([at(12, 2, 0), at(10, 0, 0), at(30, 4, 0), at(10.5, 0.1, 0)]);
    expect(kept.map(({ starts }) => starts)).toEqual([2, 1]);
    expect(kept[1].weight / kept[0].weight).toBeCloseTo(Math.exp(-1), 12);
  });
});
