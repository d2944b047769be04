import { describe, expect, test } from 'vitest';
import { gaussLegendre } from '../../../src/numerics/gauss-legendre.ts';
import {
  circleAxialField,
  coaxialMutualInductance,
  roundRingPair,
  roundRingSelf,
  stripRingPair,
} from '../../../src/physics/coil/coaxial-circles.ts';
import { expectRegion, referenceRegions } from './reference.ts';

/** Mean of M over two sections given as points with weights: what the ring formulas stand for. */
function sectionMean(a: readonly [number, number, number][], b: readonly [number, number, number][]): number {
  let sum = 0;
  for (const [ra, za, wa] of a) for (const [rb, zb, wb] of b) sum += wa * wb * coaxialMutualInductance(ra, rb, za - zb);
  return sum;
}

function disc(radius: number, height: number, wire: number): [number, number, number][] {
  const { nodes, weights } = gaussLegendre(10);
  return [...nodes].flatMap((node, i) => {
    const rho = wire * Math.sqrt((node + 1) / 2);
    return Array.from({ length: 24 }, (_, k): [number, number, number] => {
      const angle = ((k + 0.5) * Math.PI) / 12;
      return [radius + rho * Math.cos(angle), height + rho * Math.sin(angle), weights[i] / 48];
    });
  });
}

describe('coaxial circles', () => {
  // Maxwell's formula; sources in the file.
  test.each(referenceRegions('coaxial-circles'))('$name', (region) => {
    expectRegion(
      region,
      ({ inputs: { a_cm, A_cm, d_cm } }) => coaxialMutualInductance(a_cm / 100, A_cm / 100, d_cm / 100) * 1e9,
    );
  });

  test('far and near limits', () => {
    // Dipoles: mu0 pi a^2 b^2 / (2 d^3). Near: mu0 a (ln(8a/d) - 2). Textbook.
    const [a, b] = [1e-3, 2e-3];
    expect(coaxialMutualInductance(a, b, 10) / ((4e-7 * Math.PI * Math.PI * a * a * b * b) / (2 * 1000))).toBeCloseTo(
      1,
      6,
    );
    expect(coaxialMutualInductance(1, 1, 1e-6) / (4e-7 * Math.PI * (Math.log(8e6) - 2))).toBeCloseTo(1, 10);
    expect(coaxialMutualInductance(1, 1, 0)).toBe(Number.POSITIVE_INFINITY);
  });

  test('the axial field is dM/db / (2 pi b)', () => {
    const [a, z] = [20e-3, 3e-3];
    for (const b of [1e-3, 12e-3, 20e-3, 35e-3]) {
      const h = 1e-5 * b;
      const slope = (coaxialMutualInductance(a, b + h, z) - coaxialMutualInductance(a, b - h, z)) / (2 * h);
      expect(circleAxialField(a, b, z) / (slope / (2 * Math.PI * b))).toBeCloseTo(1, 6);
    }
    // mu0 / 2a in the centre. Textbook.
    expect(circleAxialField(a, 0, 0)).toBeCloseTo((4e-7 * Math.PI) / (2 * a), 15);
  });
});

describe('rings with sections', () => {
  test('round rings: the expansion is the mean over both discs', () => {
    const wire = 0.5e-3;
    for (const [b, z] of [
      [11e-3, 0],
      [12.5e-3, 1e-3],
      [20e-3, 5e-3],
    ] as const) {
      const mean = sectionMean(disc(10e-3, 0, wire), disc(b, z, wire));
      const filaments = coaxialMutualInductance(10e-3, b, z);
      const got = roundRingPair(10e-3, b, z, wire);
      expect(Math.abs(got / mean - 1)).toBeLessThan(4e-6);
      expect(Math.abs(got / mean - 1)).toBeLessThan(0.1 * Math.abs(filaments / mean - 1));
    }
  });

  test("a round ring's own share: mean over pairs of points tends to it as the section shrinks", () => {
    // Thin-wire limit mu0 R (ln(8R/a) - 7/4), Kirchhoff; the terms in (a/R)^2 from Rosa and Grover.
    for (const ratio of [1e-3, 1e-2]) {
      const thin = 4e-7 * Math.PI * (Math.log(8 / ratio) - 1.75);
      expect(Math.abs(roundRingSelf(1, ratio, 1) / thin - 1)).toBeLessThan(ratio ** 2);
    }
    expect(roundRingSelf(1, 1e-3, 1) - roundRingSelf(1, 1e-3, 0)).toBeCloseTo(1e-7 * Math.PI, 12);
  });

  test('flat rings: the mean over both widths, also touching and for the ring itself', () => {
    // Width 2 mm, radii in mm, henry. Independent double quadrature graded towards the singular points (NumPy, SciPy).
    for (const [a, b, expected] of [
      [10, 10, 4.0110744422946214e-8],
      [10, 12, 2.639682118630593e-8],
      [10, 13, 2.1454096629886495e-8],
      [3, 3, 7.589603214607311e-9],
      [3, 5, 4.8110755618714225e-9],
    ]) {
      const limit = a > 5 ? 2e-6 : 1e-5;
      expect(Math.abs(stripRingPair(a * 1e-3, b * 1e-3, 0, 2e-3, 0) / expected - 1), `${a} ${b}`).toBeLessThan(limit);
    }
  });

  test("a flat ring's thickness lowers its own inductance as the rectangle's mean distance says", () => {
    const thin = stripRingPair(10e-3, 10e-3, 0, 1e-3, 1e-9);
    const thick = stripRingPair(10e-3, 10e-3, 0, 1e-3, 0.1e-3);
    // ln of the mean distance grows by about 0.2235 (w + t) against w e^(-3/2). Common practice formula.
    expect(thin - thick).toBeCloseTo(4e-7 * Math.PI * 10e-3 * (Math.log(0.2235 * 1.1) + 1.5), 10);
  });
});
