import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  polygonArea,
  polygonClearance,
  sharpestCorner,
  tidyPolygon,
} from '../../../src/physics/coil/polygon-checks.ts';
import { rectanglePoints } from './coils.ts';

describe('polygon checks', () => {
  const rectangle = Float64Array.from(rectanglePoints(4, 2));
  test('area is signed', () => {
    expect(polygonArea(rectangle)).toBe(8);
    expect(polygonArea(Float64Array.from([0, 0, 0, 1, 1, 0]))).toBe(-0.5);
  });

  test('tidying drops doubled points, also last on first, and turns clockwise round', () => {
    const tidy = tidyPolygon(Float64Array.from([0, 0, 0, 0, 0, 1, 1, 1, 1, 0, 0, 1e-12]), 1e-9);
    expect([...tidy]).toEqual([0, 0, 1, 0, 1, 1, 0, 1]);
  });

  test('clearance is the narrowest place; a crossing gives zero', () => {
    expect(polygonClearance(rectangle, 0.5).distance).toBe(2);
    expect(polygonClearance(Float64Array.from([0, 0, 2, 2, 2, 0, 0, 2]), 0)).toMatchObject({
      distance: 0,
      first: 0,
      second: 2,
    });
  });

  test('clearance equals that of all pairs of sides, none passed over (seed 7)', () => {
    /** Least distance of two segments that do not cross: an end of one from the other, by the foot of the perpendicular. */
    const apart = (p: readonly number[][], i: number, j: number): number => {
      const n = p.length;
      const foot = (c: readonly number[], a: readonly number[], b: readonly number[]): number => {
        const along = [b[0] - a[0], b[1] - a[1]];
        const share = ((c[0] - a[0]) * along[0] + (c[1] - a[1]) * along[1]) / (along[0] ** 2 + along[1] ** 2);
        const t = share < 0 ? 0 : Math.min(share, 1);
        return Math.sqrt((c[0] - a[0] - t * along[0]) ** 2 + (c[1] - a[1] - t * along[1]) ** 2);
      };
      const [a, b, c, d] = [p[i], p[(i + 1) % n], p[j], p[(j + 1) % n]];
      return Math.min(foot(a, c, d), foot(b, c, d), foot(c, a, b), foot(d, a, b));
    };
    fc.assert(
      // Star-shaped about the origin, so it never crosses itself.
      fc.property(fc.array(fc.double({ min: 0.2, max: 1, noNaN: true }), { minLength: 5, maxLength: 40 }), (radii) => {
        const n = radii.length;
        const p = radii.map((r, i) => [r * Math.cos((2 * Math.PI * i) / n), r * Math.sin((2 * Math.PI * i) / n)]);
        let least = Number.POSITIVE_INFINITY;
        for (let i = 0; i < n; i++)
          for (let j = i + 2; j < n; j++) if ((j + 1) % n !== i) least = Math.min(least, apart(p, i, j));
        expect(polygonClearance(Float64Array.from(p.flat()), 0).distance).toBeCloseTo(least, 12);
      }),
      { seed: 7, numRuns: 100 },
    );
  });

  test('sides close along the path count as one bend', () => {
    // A notch 0.2 wide and 1 deep in a long side: its two flanks are 0.2 apart but follow each other.
    const notched = Float64Array.from([0, 0, 4, 0, 4, 2, 2.2, 2, 2.2, 1, 2, 1, 2, 2, 0, 2]);
    expect(polygonClearance(notched, 0).distance).toBeCloseTo(0.2, 12);
    expect(polygonClearance(notched, 0.5).distance).toBeGreaterThan(0.2);
  });

  test('the sharpest corner, convex or re-entrant', () => {
    expect(sharpestCorner(rectangle).angle).toBeCloseTo(Math.PI / 2, 12);
    const { angle, vertex } = sharpestCorner(Float64Array.from([0, 0, 4, 0, 0.1, 0.05, 0, 4]));
    expect(vertex).toBe(1);
    expect(angle).toBeCloseTo(Math.atan2(0.05, 3.9), 12);
  });
});
