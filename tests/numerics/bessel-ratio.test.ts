import { describe, expect, test } from 'vitest';
import { besselRatios } from '../../src/numerics/bessel-ratio.ts';
import { referenceRegions } from '../physics/coil/reference.ts';

// Source: reference-cases/bessel-ratio (mpmath).
describe('besselRatios', () => {
  const [region] = referenceRegions<[string, string][]>('bessel-ratio');
  test.each(region.rows)('$id', ({ inputs, expected }) => {
    const x = Number((inputs as Record<string, string>).x);
    const got = besselRatios(x * Math.SQRT1_2, -x * Math.SQRT1_2, expected.length);
    expected.forEach(([re, im], n) => {
      const size = Math.hypot(Number(re), Number(im));
      expect(Math.hypot(got[2 * n] - Number(re), got[2 * n + 1] - Number(im))).toBeLessThanOrEqual(
        region.tolerance.rel * size,
      );
    });
  });

  test('real argument: J1/J0 at 1', () => {
    // Source: Abramowitz and Stegun table 9.1: J0(1) = 0.7651976866, J1(1) = 0.4400505857 (from memory).
    expect(besselRatios(1, 0, 1)[0]).toBeCloseTo(0.4400505857 / 0.7651976866, 9);
  });

  test('zero argument gives zeros', () => {
    expect([...besselRatios(0, 0, 3)]).toEqual([0, 0, 0, 0, 0, 0]);
  });
});
