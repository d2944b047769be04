import { describe, expect, test } from 'vitest';
import { gaussLegendre } from '../../../src/numerics/gauss-legendre.ts';
import {
  discMeanDistance,
  logRectangleMeanDistance,
  logStripMeanDistance,
} from '../../../src/physics/coil/mean-distance.ts';

/** Mean of f over a triangular spread on [-1, 1], split at 0 and graded towards `singular`. */
function triangular(f: (s: number) => number): number {
  const { nodes, weights } = gaussLegendre(40);
  let sum = 0;
  for (const [from, to] of [
    [-1, 0],
    [0, 1],
  ]) {
    // t^3 grading towards both ends takes the logarithms there.
    for (const end of [0, 1]) {
      nodes.forEach((node, i) => {
        const t = ((node + 1) / 2) ** 4 / 2;
        const s = end === 0 ? from + (to - from) * t : to - (to - from) * t;
        sum += ((weights[i] / 2) * 4 * ((node + 1) / 2) ** 3 * (to - from) * (1 - Math.abs(s)) * f(s)) / 2;
      });
    }
  }
  return sum;
}

describe('geometric mean distances', () => {
  test('disc: a e^(-1/4) with even current, a with current on the skin', () => {
    // Maxwell, Treatise art. 692.
    expect(discMeanDistance(1)).toBeCloseTo(0.7788007830714049, 15);
    expect(discMeanDistance(1, 0)).toBe(1);
  });

  test('square 0.44705 of its side, thin line e^(-3/2)', () => {
    // Rosa and Grover (1912): 0.44705 a for a square (from memory), 0.22313 a for a line.
    expect(Math.exp(logRectangleMeanDistance(1, 1))).toBeCloseTo(0.44705, 5);
    expect(Math.exp(logRectangleMeanDistance(1, 0))).toBeCloseTo(Math.exp(-1.5), 15);
    expect(Math.exp(logRectangleMeanDistance(1, 1e-7))).toBeCloseTo(Math.exp(-1.5), 6);
    expect(logRectangleMeanDistance(3, 2)).toBe(logRectangleMeanDistance(2, 3));
    // About 0.2235 (w + t) for any ratio. Common practice formula.
    for (const t of [0.01, 0.1, 0.5]) {
      expect(Math.exp(logRectangleMeanDistance(1, t)) / (0.2235 * (1 + t))).toBeCloseTo(1, 2);
    }
  });

  test('rectangle by quadrature over both triangular spreads', () => {
    for (const [w, t] of [
      [1, 1],
      [2, 0.5],
      [1, 0.05],
    ] as const) {
      const mean = triangular((u) => triangular((v) => 0.5 * Math.log((w * u) ** 2 + (t * v) ** 2)));
      expect(logRectangleMeanDistance(w, t)).toBeCloseTo(mean, 4);
    }
  });

  test.each([
    [1, 1.2, 0],
    [1, 1, 0],
    [2, 0.6, 1],
    [1, 0, 0.01],
    [1, 5, 1],
    [0.5, 0, 0],
    [1, 12, 3],
  ])('two strips of width %f, %f across and %f up, by quadrature', (width, across, up) => {
    const mean = triangular((s) => 0.5 * Math.log((across + width * s) ** 2 + up ** 2));
    expect(logStripMeanDistance(width, across, up)).toBeCloseTo(mean, up === 0.01 ? 4 : 9);
  });

  test('far strips act at their distance; both forms join smoothly at ten widths', () => {
    expect(logStripMeanDistance(1, 1e4, 0)).toBeCloseTo(Math.log(1e4), 8);
    for (const angle of [0, 0.5, 1, 1.5]) {
      const at = (r: number) => logStripMeanDistance(1, r * Math.cos(angle), r * Math.sin(angle)) - Math.log(r);
      expect(Math.abs(at(10 * (1 + 1e-9)) - at(10 * (1 - 1e-9)))).toBeLessThan(1e-10);
    }
  });
});
