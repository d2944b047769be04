import { describe, expect, test } from 'vitest';
import {
  ellipticEFromComplement,
  ellipticHalfDifference,
  ellipticKFromComplement,
} from '../../src/numerics/elliptic.ts';
import { referenceRegions } from '../physics/coil/reference.ts';

// Source: reference-cases/elliptic (mpmath, 40 digits).
describe('complete elliptic integrals', () => {
  const regions = referenceRegions<{ K: string; E: string; halfDifference: string }>('elliptic');
  const rows = regions.flatMap(({ tolerance, rows }) => rows.map((row) => ({ ...row, rel: tolerance.rel })));
  test.each(rows)('$id', ({ inputs, expected, rel }) => {
    const m1 = Number((inputs as Record<string, string>).complement);
    const near = (got: number, wanted: string) =>
      expect(Math.abs(got - Number(wanted))).toBeLessThanOrEqual(rel * Math.abs(Number(wanted)));
    near(ellipticKFromComplement(m1), expected.K);
    near(ellipticEFromComplement(m1), expected.E);
    // Given as 1 - m1, m itself carries a rounding of 1e-16 / m.
    if (m1 < 0.9) near(ellipticHalfDifference(1 - m1, m1), expected.halfDifference);
  });

  test('the half difference keeps its digits for small m, where it is pi m^2 / 32 (1 + 3 m / 4 + ...)', () => {
    for (const m of [1e-3, 1e-6, 1e-12, 1e-100]) {
      const series = ((Math.PI * m * m) / 32) * (1 + (3 * m) / 4 + (75 * m * m) / 128);
      expect(ellipticHalfDifference(m, 1 - m) / series).toBeCloseTo(1, m > 1e-4 ? 8 : 13);
    }
  });

  test('limits and bad arguments', () => {
    expect(ellipticKFromComplement(0)).toBe(Number.POSITIVE_INFINITY);
    expect(ellipticKFromComplement(-1)).toBeNaN();
    expect(ellipticKFromComplement(Number.NaN)).toBeNaN();
    expect(ellipticEFromComplement(0)).toBe(1);
    expect(ellipticEFromComplement(1)).toBeCloseTo(Math.PI / 2, 15);
    expect(ellipticEFromComplement(1.5)).toBeNaN();
    expect(ellipticHalfDifference(0, 1)).toBe(0);
    expect(ellipticHalfDifference(1, 0)).toBe(Number.POSITIVE_INFINITY);
  });

  // Legendre's relation, DLMF 19.7.1: E K' + E' K - K K' = pi / 2.
  test.each([0.01, 0.3, 0.5, 0.99])("satisfy Legendre's relation at m1 = %f", (m1) => {
    const [k, e] = [ellipticKFromComplement(m1), ellipticEFromComplement(m1)];
    const [k1, e1] = [ellipticKFromComplement(1 - m1), ellipticEFromComplement(1 - m1)];
    expect(e * k1 + e1 * k - k * k1).toBeCloseTo(Math.PI / 2, 14);
  });
});
