import { describe, expect, it } from 'vitest';
import { gaussLegendre, type QuadratureRule } from '../../src/numerics/gauss-legendre.ts';
import { mappedGauss } from '../../src/numerics/mapped-gauss.ts';

/** Worst relative error of 1/sqrt((t - t0)^2 + e^2) over t0 along the interval; the integral is in closed form. */
function worstError(rule: QuadratureRule, e: number): number {
  let worst = 0;
  for (let step = 0; step <= 40; step++) {
    const t0 = -1 + step / 20;
    const exact = Math.asinh((1 - t0) / e) - Math.asinh((-1 - t0) / e);
    let sum = 0;
    rule.nodes.forEach((t, k) => {
      sum += rule.weights[k]! / Math.sqrt((t - t0) ** 2 + e * e);
    });
    worst = Math.max(worst, Math.abs(sum - exact) / (2 * Math.asinh(1 / e)));
  }
  return worst;
}

function nodesNeeded(rule: (count: number) => QuadratureRule, e: number, tolerance: number): number {
  let count = 2;
  while (worstError(rule(count), e) > tolerance) count++;
  return count;
}

describe('mapped Gauss rule', () => {
  it.each([0.05, 0.1, 0.2, 0.3])('needs 0.72 to 0.81 of the nodes of Gauss-Legendre at distance %f', (e) => {
    for (const tolerance of [1e-4, 1e-6, 1e-8]) {
      const share = nodesNeeded(mappedGauss, e, tolerance) / nodesNeeded(gaussLegendre, e, tolerance);
      expect(share).toBeGreaterThan(0.7);
      expect(share).toBeLessThan(0.82);
    }
  });

  it('keeps the interval: ends map to ends, weights add up to 2 as the nodes grow dense', () => {
    const { nodes, weights } = mappedGauss(40);
    expect(Math.abs(weights.reduce((sum, weight) => sum + weight, 0) - 2)).toBeLessThan(1e-13);
    expect(nodes[0]).toBeGreaterThan(-1);
    expect(nodes[39]).toBeLessThan(1);
    expect(nodes[0]! + nodes[39]!).toBeCloseTo(0, 14);
  });
});
