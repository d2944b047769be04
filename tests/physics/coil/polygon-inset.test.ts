import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { polygonArea } from '../../../src/physics/coil/polygon-checks.ts';
import { polygonInset } from '../../../src/physics/coil/polygon-inset.ts';
import { rectanglePoints } from './coils.ts';

describe('polygonInset', () => {
  test('a rectangle vanishes at half its shorter side', () => {
    const inset = polygonInset(Float64Array.from(rectanglePoints(4, 2)), 5);
    expect(inset.vanishesAt).toBeCloseTo(1, 12);
    expect([...inset.verticesAt(0.5)]).toEqual(
      [1.5, 0.5, -1.5, 0.5, -1.5, -0.5, 1.5, -0.5].map((v) => expect.closeTo(v, 12)),
    );
  });

  test('a chamfer is dropped where it has shrunk to nothing and its neighbours meet', () => {
    // Square of 10 with one corner cut by 1: the cut grows shorter by 2 (sqrt 2 - 1) per unit.
    const points = Float64Array.from([5, 4, 4, 5, -5, 5, -5, -5, 5, -5]);
    const gone = Math.SQRT2 / (2 * (Math.SQRT2 - 1));
    const inset = polygonInset(points, 4);
    const after = inset.verticesAt(gone + 0.5);
    expect([after[0], after[1]]).toEqual([after[2], after[3]]);
    expect(after[0]).toBeCloseTo(5 - gone - 0.5, 12);
    expect(inset.vanishesAt).toBe(Number.POSITIVE_INFINITY);
    expect(polygonInset(points, 6).vanishesAt).toBeCloseTo(5, 9);
  });

  test('area falls as perimeter x inset + corners (Steiner), for regular polygons (seed 41)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 3, max: 24 }), fc.double({ min: 0.01, max: 0.9, noNaN: true }), (sides, share) => {
        const points = Float64Array.from(
          Array.from({ length: sides }, (_, i) => [
            Math.cos((2 * Math.PI * i) / sides),
            Math.sin((2 * Math.PI * i) / sides),
          ]).flat(),
        );
        const apothem = Math.cos(Math.PI / sides);
        const inset = polygonInset(points, share * apothem);
        expect(polygonArea(inset.verticesAt(share * apothem)) / polygonArea(points)).toBeCloseTo((1 - share) ** 2, 9);
      }),
      { seed: 41, numRuns: 50 },
    );
  });

  test('points on a straight side move straight inwards', () => {
    const points = Float64Array.from([2, -2, 2, 0, 2, 2, -2, 2, -2, -2]);
    const moved = polygonInset(points, 1).verticesAt(0.5);
    expect([moved[2], moved[3]]).toEqual([expect.closeTo(1.5, 12), expect.closeTo(0, 12)]);
  });
});
