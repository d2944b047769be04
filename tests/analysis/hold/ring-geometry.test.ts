import { describe, expect, it } from 'vitest';
import { insideRing, nearestOnRings, polygonInside, ringArea } from '../../../src/analysis/hold/ring-geometry.ts';

describe('rings', () => {
  const square = Float64Array.from([-5, -5, 5, -5, 5, 5, -5, 5]);
  const hole = Float64Array.from([-1, -1, -1, 1, 1, 1, 1, -1]);

  it('nearest point on rings', () => {
    expect(nearestOnRings([square], 3, 1)).toEqual({ distance: 2, x: 5, y: 1 });
    expect(nearestOnRings([square, hole], 2, 0).distance).toBe(1);
    expect(nearestOnRings([], 0, 0).distance).toBe(Number.POSITIVE_INFINITY);
  });

  it('polygon inside a region: corners, crossings and swallowed holes', () => {
    const box = (x: number, y: number, h: number) =>
      Float64Array.from([x - h, y - h, x + h, y - h, x + h, y + h, x - h, y + h]);
    expect(polygonInside([square], box(0, 0, 4))).toBe(true);
    expect(polygonInside([square], box(4, 0, 2))).toBe(false);
    expect(polygonInside([square, hole], box(3, 3, 1))).toBe(true);
    expect(polygonInside([square, hole], box(0, 0, 3))).toBe(false);
    // All corners in the region, one side across the hole.
    expect(polygonInside([square, hole], Float64Array.from([-3, 0.5, 3, 0.5, 0, 4]))).toBe(false);
    expect(polygonInside([square], new Float64Array(0))).toBe(false);
  });

  it('area is positive counter-clockwise; inside by even-odd', () => {
    expect(ringArea(square)).toBe(100);
    expect(ringArea(hole)).toBe(-4);
    expect(insideRing(square, 4.9, -4.9)).toBe(true);
    expect(insideRing(square, 5.1, 0)).toBe(false);
  });
});
