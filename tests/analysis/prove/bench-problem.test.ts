import { describe, expect, test } from 'vitest';
import { limitDistance, oneSidedResidual } from '../../../src/analysis/prove/bench-problem.ts';
import { correctionOf, differencesOf, nextCorrections } from '../../../src/analysis/prove/corrections.ts';
import { meterSigma, readingSigma } from '../../../src/analysis/prove/meter-accuracy.ts';
import { normalProbability } from '../../../src/numerics/normal-distribution.ts';

describe('limits as residuals', () => {
  test('the square is -2 ln of the probability of the normal', () => {
    for (const x of [-6, -2, -0.5, 0, 1, 3]) {
      expect(oneSidedResidual(x) ** 2).toBeCloseTo(-2 * Math.log(normalProbability(x)), 9);
    }
  });
  test('far on the wrong side it goes on as the distance, without a step', () => {
    expect(oneSidedResidual(-24.999)).toBeCloseTo(oneSidedResidual(-25.001), 2);
    expect(oneSidedResidual(-100) / 100).toBeCloseTo(1, 2);
  });
  test('far on the right side it is nothing', () => {
    expect(oneSidedResidual(9)).toBeLessThan(1e-8);
  });
  test('regulated: the largest current must lie above; collapsed: below', () => {
    const base = {
      index: 0,
      pose: 0,
      supplyV: 5,
      supplySigmaV: 0.01,
      loadA: 1,
      loadSigmaA: 0.01,
      limitSigmaA: 0.02,
      observed: [],
    };
    expect(limitDistance({ ...base, regulated: true }, 1.1)).toBeCloseTo(5, 9);
    expect(limitDistance({ ...base, regulated: false }, 1.1)).toBeCloseTo(-5, 9);
  });
});

test('corrections learn the slope along the last move', () => {
  const prediction = (supplyA: number) => ({
    supplyA,
    frequencyHz: 1e5,
    rectifiedV: 5,
    outputV: 5,
    receiverC: 30,
    transmitterC: 30,
    maxOutputA: Number.NaN,
  });
  const at = (z: number) => differencesOf([prediction(1 + 0.3 * z)], [prediction(1)]);
  const first = nextCorrections(null, Float64Array.of(0, 0), at(0));
  expect(first.values[6]).toBe(0);
  const second = nextCorrections(first, Float64Array.of(0.5, 0), at(0.5));
  expect(correctionOf(second, 0, 0, [0.5, 0])).toBeCloseTo(0.15, 12);
  expect(correctionOf(second, 0, 0, [1, 7])).toBeCloseTo(0.3, 12);
  // A move too short to learn from leaves the slopes.
  const third = nextCorrections(second, Float64Array.of(0.5001, 0), at(2));
  expect(third.slopes).toEqual(second.slopes);
});

test('accuracies: a percentage and digits, as 95 % limits, and what the model adds', () => {
  const meters = { voltagePercent: 0.5, voltageCountsMv: 20, currentPercent: 1, currentCountsMa: 10 };
  expect(meterSigma(meters, 'voltage', 5)).toBeCloseTo(0.045 / 1.959964, 9);
  expect(meterSigma(meters, 'current', 0.6)).toBeCloseTo(0.016 / 1.959964, 9);
  expect(readingSigma(meters, 'supplyA', 0.6)).toBeGreaterThan(meterSigma(meters, 'current', 0.6));
});
