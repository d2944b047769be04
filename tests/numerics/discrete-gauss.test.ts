import { describe, expect, it } from 'vitest';
import { discreteGauss } from '../../src/numerics/discrete-gauss.ts';

describe('Gauss rules for discrete sums', () => {
  it.each([
    [1, 1],
    [2, 1],
    [7, 3],
    [10, 6],
    [14, 8],
    [100, 20],
    [1000, 12],
  ])('%i terms with %i nodes: exact for polynomials up to degree 2 order - 1', (count, order) => {
    const { nodes, weights } = discreteGauss(count, order);
    expect(nodes.length).toBe(Math.min(count, order));
    for (let degree = 0; degree < 2 * order; degree++) {
      let difference = 0;
      let total = 0;
      for (let k = 0; k < count; k++) {
        const value = ((k - (count - 1) / 2) / count) ** degree;
        difference -= value;
        total += Math.abs(value);
      }
      nodes.forEach((node, k) => {
        difference += weights[k]! * ((node - (count - 1) / 2) / count) ** degree;
      });
      expect(Math.abs(difference)).toBeLessThanOrEqual(1e-13 * total);
    }
  });

  it('is not exact for the next degree: the order is what it says', () => {
    const { nodes, weights } = discreteGauss(20, 3);
    let difference = 0;
    for (let k = 0; k < 20; k++) difference -= ((k - 9.5) / 20) ** 6;
    nodes.forEach((node, k) => {
      difference += weights[k]! * ((node - 9.5) / 20) ** 6;
    });
    expect(Math.abs(difference)).toBeGreaterThan(1e-4);
  });

  it('has ascending nodes inside the range, symmetric, and positive weights that add up to the count', () => {
    const { nodes, weights } = discreteGauss(14, 8);
    nodes.forEach((node, k) => {
      expect(node).toBeGreaterThanOrEqual(0);
      expect(node).toBeLessThanOrEqual(13);
      if (k > 0) expect(node).toBeGreaterThan(nodes[k - 1]!);
      expect(Math.abs(node + nodes[7 - k]! - 13)).toBeLessThan(1e-12);
      expect(weights[k]).toBeGreaterThan(0);
    });
    expect(weights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(14, 12);
  });

  it('is the plain sum from as many nodes as terms on', () => {
    const { nodes, weights } = discreteGauss(5, 9);
    expect([...nodes]).toEqual([0, 1, 2, 3, 4]);
    expect([...weights]).toEqual([1, 1, 1, 1, 1]);
  });
});
