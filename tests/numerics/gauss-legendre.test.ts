import { describe, expect, test } from 'vitest';
import { gaussLegendre } from '../../src/numerics/gauss-legendre.ts';

describe('gaussLegendre', () => {
  // Source: Abramowitz and Stegun (1964) table 25.4, n = 5 (digits from memory, recomputed with NumPy leggauss).
  test('has the tabulated five-point rule', () => {
    const { nodes, weights } = gaussLegendre(5);
    expect(nodes[4]).toBeCloseTo(0.906179845938664, 14);
    expect(nodes[3]).toBeCloseTo(0.5384693101056831, 14);
    expect(nodes[2]).toBe(0);
    expect(weights[4]).toBeCloseTo(0.23692688505618908, 14);
    expect(weights[3]).toBeCloseTo(0.47862867049936647, 14);
    expect(weights[2]).toBeCloseTo(0.5688888888888889, 14);
  });

  test.each([1, 2, 3, 8, 33, 64])('%i nodes integrate all powers up to degree 2n - 1', (count) => {
    const { nodes, weights } = gaussLegendre(count);
    for (let degree = 0; degree < 2 * count; degree++) {
      let sum = 0;
      for (let i = 0; i < count; i++) sum += weights[i] * nodes[i] ** degree;
      expect(Math.abs(sum - (degree % 2 === 0 ? 2 / (degree + 1) : 0))).toBeLessThan(1e-14 * count);
    }
  });

  test('a rule of degree 2n - 1 misses the next power by the known remainder', () => {
    // Remainder for x^(2n): 2^(2n+1) (n!)^4 / ((2n+1) ((2n)!)^2). Source: Abramowitz and Stegun 25.4.29 (from memory).
    const { nodes, weights } = gaussLegendre(3);
    let sum = 0;
    for (let i = 0; i < 3; i++) sum += weights[i] * nodes[i] ** 6;
    expect(2 / 7 - sum).toBeCloseTo((2 ** 7 * 6 ** 4) / (7 * 720 ** 2), 14);
  });

  test('stays a rule at a thousand nodes', () => {
    const { nodes, weights } = gaussLegendre(1000);
    expect(Math.abs(weights.reduce((sum, w) => sum + w, 0) - 2)).toBeLessThan(1e-13);
    expect(nodes.every((x, i) => i === 0 || x > nodes[i - 1])).toBe(true);
  });
});
