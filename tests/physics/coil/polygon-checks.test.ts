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
