import { contours } from 'd3-contour';
import { describe, expect, it } from 'vitest';
import { contourRings, type GridField } from '../../../src/analysis/hold/contour.ts';
import { refineField } from '../../../src/analysis/hold/refine-field.ts';
import { insideRings, ringArea } from '../../../src/analysis/hold/ring-geometry.ts';
import { randomSource } from '../../../src/numerics/random.ts';

const SEED = 12;

function grid(n: number, half: number, f: (x: number, y: number) => number): GridField {
  const axis = Float64Array.from({ length: n }, (_, i) => -half + (2 * half * i) / (n - 1));
  const values = new Float64Array(n * n);
  for (let j = 0; j < n; j += 1) for (let i = 0; i < n; i += 1) values[j * n + i] = f(axis[i], axis[j]);
  return { x: axis, y: axis, values };
}

describe('contourRings', () => {
  it('a circle: radius within the square of the step, one counter-clockwise ring', () => {
    const field = grid(65, 10, (x, y) => 49 - x * x - y * y);
    const rings = contourRings(refineField(field, 4), 0);
    expect(rings).toHaveLength(1);
    expect(ringArea(rings[0]) / (49 * Math.PI)).toBeCloseTo(1, 4);
    for (let k = 0; k < rings[0].length; k += 2)
      expect(Math.abs(Math.hypot(rings[0][k], rings[0][k + 1]) - 7)).toBeLessThan(2e-4);
  });

  it('a ring has a hole, clockwise, after its boundary', () => {
    const rings = contourRings(
      grid(81, 10, (x, y) => 2 - Math.abs(Math.hypot(x, y) - 5)),
      0,
    );
    expect(rings).toHaveLength(2);
    expect(ringArea(rings[0])).toBeGreaterThan(0);
    expect(ringArea(rings[1])).toBeLessThan(0);
    expect(insideRings(rings, 5, 0)).toBe(true);
    expect(insideRings(rings, 0, 0)).toBe(false);
    expect(insideRings(rings, 8, 0)).toBe(false);
  });

  it('closes along the edge of the grid, to the corner', () => {
    const rings = contourRings(
      grid(11, 5, () => 1),
      0,
    );
    expect(rings).toHaveLength(1);
    expect(ringArea(rings[0])).toBeCloseTo(100, 4);
    const half = contourRings(
      grid(11, 5, (x) => x + 0.3),
      0,
    );
    expect(ringArea(half[0])).toBeCloseTo(53, 4);
  });

  it('nothing above the level: no ring; unknown values lie below', () => {
    expect(
      contourRings(
        grid(11, 5, () => -1),
        0,
      ),
    ).toEqual([]);
    const rings = contourRings(
      grid(11, 5, (x) => (x > 0.5 ? Number.NaN : 1)),
      0,
    );
    expect(ringArea(rings[0])).toBeCloseTo(50, 3);
  });

  it(`encloses the same area as an independent library on random smooth fields (d3-contour; seed ${SEED})`, () => {
    const random = randomSource(SEED);
    const n = 60;
    for (let trial = 0; trial < 20; trial += 1) {
      const waves = Array.from({ length: 5 }, () => [random.normal(), random.normal(), 6 * random.uniform()]);
      const field = grid(n, 1, (x, y) => {
        // Below the level at the border, so that both libraries close their rings inside.
        const dome = 1.2 - 2.2 * Math.max(Math.abs(x), Math.abs(y)) ** 4;
        return dome + waves.reduce((s, [a, b, c]) => s + 0.25 * Math.cos(3 * a * x + 3 * b * y + c), 0) - 0.5;
      });
      for (let k = 0; k < n; k += 1)
        for (const at of [k, (n - 1) * n + k, k * n, k * n + n - 1])
          field.values[at] = Math.min(field.values[at], -0.2);
      const ours = contourRings(field, 0).reduce((s, ring) => s + ringArea(ring), 0);
      const theirs = contours().size([n, n]).smooth(true).contour(Array.from(field.values), 0);
      const step = 2 / (n - 1);
      let area = 0;
      for (const polygon of theirs.coordinates)
        for (const [index, ring] of polygon.entries()) {
          let twice = 0;
          for (let k = 0; k + 1 < ring.length; k += 1)
            twice += ring[k][0] * ring[k + 1][1] - ring[k + 1][0] * ring[k][1];
          area += (index === 0 ? 1 : -1) * Math.abs((twice / 2) * step * step);
        }
      expect(Math.abs(ours - area)).toBeLessThan(1e-9 + 1e-3 * area);
    }
  });

  it('every grid point is on the side the rings say', () => {
    const random = randomSource(SEED);
    const field = grid(30, 5, () => random.normal());
    const rings = contourRings(field, 0);
    for (let j = 0; j < 30; j += 1)
      for (let i = 0; i < 30; i += 1) {
        // Edge points lie on the closing line itself.
        if (i === 0 || j === 0 || i === 29 || j === 29) continue;
        expect(insideRings(rings, field.x[i], field.y[j])).toBe(field.values[j * 30 + i] >= 0);
      }
  });
});
