import { describe, expect, test } from 'vitest';
import { meanPotential, pointPotential } from '../../../src/physics/field/panel-integrals.ts';
import { allocatePanels, setPanel } from '../../../src/physics/field/panel-set.ts';

/** Unit squares parallel to the plane z = 0 about these centres. */
function squares(...centres: readonly (readonly [number, number, number])[]) {
  const set = allocatePanels(centres.length);
  centres.forEach(([x, y, z], p) => {
    const h = 0.5;
    setPanel(set, p, [x - h, y - h, z, x + h, y - h, z, x + h, y + h, z, x - h, y + h, z]);
  });
  return set;
}

describe('mean potential of a charged square', () => {
  test('on itself: the closed form for a unit square', () => {
    const set = squares([0, 0, 0]);
    // Mean of 1/r over two points of a unit square: 4 ln(1 + sqrt 2) - 4 (sqrt 2 - 1) / 3 = 2.97321. Textbook (from memory).
    const exact = 4 * Math.log(1 + Math.SQRT2) - (4 * (Math.SQRT2 - 1)) / 3;
    expect(4 * Math.PI * meanPotential(set, 0, set, 0)).toBeCloseTo(exact, 2);
    expect((4 * Math.PI * meanPotential(set, 0, set, 0)) / exact - 1).toBeLessThan(1e-3);
  });

  test('the same both ways, and 1/r with its moments far away', () => {
    const set = squares([0, 0, 0], [0.4, 0.2, 0.7], [30, 40, 0], [3, 2, 4.5]);
    for (const other of [1, 2, 3]) {
      const there = meanPotential(set, other, set, 0);
      expect(there / meanPotential(set, 0, set, other) - 1).toBeCloseTo(0, 3);
    }
    expect(4 * Math.PI * meanPotential(set, 2, set, 0) * 50 - 1).toBeLessThan(1e-3);
  });

  test.each([
    [0.3, 0.1, 0.2],
    [1.2, 0.9, 0.4],
    [4, 1, 2],
    [-6, 8, 3],
  ])('at a point (%d, %d, %d): as a sum over 200 x 200 small charges', (x, y, z) => {
    const set = squares([0, 0, 0]);
    const n = 200;
    let sum = 0;
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) sum += 1 / Math.hypot(x - (i + 0.5) / n + 0.5, y - (j + 0.5) / n + 0.5, z);
    expect(pointPotential(set, 0, x, y, z) / (sum / (n * n) / (4 * Math.PI)) - 1).toBeCloseTo(0, 4);
  });
});
