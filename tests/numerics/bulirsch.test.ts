import { describe, expect, it } from 'vitest';
import { bulirschCel, cubedPair } from '../../src/numerics/bulirsch.ts';

/** Trapezoid rule on the whole period: spectral for kc not too small, no code in common with the descent. */
function byTrapezoid(kc: number, p: number, a: number, b: number, nodes = 20000): number {
  let sum = 0;
  for (let i = 0; i < nodes; i += 1) {
    const t = (Math.PI * (i + 0.5)) / nodes;
    const c = Math.cos(t) ** 2;
    const s = Math.sin(t) ** 2;
    sum += (a * c + b * s) / ((c + p * s) * Math.sqrt(c + kc * kc * s));
  }
  return (sum * Math.PI) / (2 * nodes);
}

describe('bulirschCel', () => {
  // K and E at parameter m = 0.5 and 0.99: Abramowitz and Stegun (1964) tables 17.1 and 17.2, from memory to 10 digits,
  // recomputed with a general-purpose mathematics library to 16.
  it.each([
    [0.5, 1.8540746773013719, 1.3506438810476755],
    [0.99, 3.695637362989874, 1.015993545025224],
    [0, Math.PI / 2, Math.PI / 2],
  ])('gives K and E at m = %f', (m, k, e) => {
    const kc = Math.sqrt(1 - m);
    expect(bulirschCel(kc, 1, 1, 1)).toBeCloseTo(k, 14);
    expect(bulirschCel(kc, 1, 1, 1 - m)).toBeCloseTo(e, 14);
  });

  it.each([
    [0.3, 0.5, 1, 2],
    [0.05, 0.2, -1, 3],
    [2.5, 4, 1, -1],
    [0.7, 1e-2, 1, 0.1],
  ])('agrees with the periodic trapezoid rule (kc %f, p %f)', (kc, p, a, b) => {
    const reference = byTrapezoid(kc, p, a, b);
    expect(Math.abs(bulirschCel(kc, p, a, b) - reference)).toBeLessThan(3e-14 * Math.max(1, Math.abs(reference)));
  });

  it('takes the principal value for negative p: Pi(n > 1), DLMF 19.6.5 and 19.25.2 in the form of cel', () => {
    // Circular to hyperbolic case relation: Pi(n, m) + Pi(m/n, m) = K(m) for n > 1 (DLMF 19.7.8 at phi = pi/2).
    const m = 0.4;
    const n = 1.7;
    const kc = Math.sqrt(1 - m);
    const sum = bulirschCel(kc, 1 - n, 1, 1) + bulirschCel(kc, 1 - m / n, 1, 1);
    expect(sum).toBeCloseTo(bulirschCel(kc, 1, 1, 1), 13);
  });

  it('states its limits', () => {
    expect(bulirschCel(0, 1, 1, 1)).toBe(Number.POSITIVE_INFINITY);
    expect(bulirschCel(0, 1, 1, 0)).toBe(1);
    expect(bulirschCel(Number.NaN, 1, 1, 1)).toBeNaN();
  });
});

describe('cubedPair', () => {
  it.each([1e-8, 1e-3, 0.2, 0.9, 1, 7])('is the pair of cel integrals at kc = %f', (kc) => {
    const [c, s] = cubedPair(kc, new Float64Array(2));
    expect(c / bulirschCel(kc, kc * kc, 1, 0)).toBeCloseTo(1, 14);
    expect(s / bulirschCel(kc, kc * kc, 0, 1)).toBeCloseTo(1, 14);
  });
});
