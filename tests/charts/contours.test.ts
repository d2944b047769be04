import { describe, expect, test } from 'vitest';
import { areaAbove, linesAt, type OffsetGrid, valueAt } from '../../src/charts/contours.ts';

function grid(points: number, half: number, value: (x: number, y: number) => number): OffsetGrid {
  const axis = Float64Array.from({ length: points }, (_, i) => -half + (2 * half * i) / (points - 1));
  const values = new Float64Array(points * points);
  axis.forEach((y, j) => {
    axis.forEach((x, i) => {
      values[j * points + i] = value(x, y);
    });
  });
  return { xMm: axis, yMm: axis, values };
}

/** Signed area by the shoelace formula. */
function area(ring: Float64Array): number {
  let sum = 0;
  const n = ring.length / 2;
  for (let i = 0; i < n; i += 1) {
    const j = (i + 1) % n;
    sum += ring[2 * i] * ring[2 * j + 1] - ring[2 * j] * ring[2 * i + 1];
  }
  return sum / 2;
}

const bowl = grid(81, 20, (x, y) => 100 - (x * x + y * y));

test('the area above a level of a bowl is a disc of the right radius', () => {
  const [rings] = areaAbove(bowl, 0);
  expect(rings).toHaveLength(1);
  // Closed form: pi r^2; linear interpolation on 0.5 mm cells is off by about h^2/r.
  expect(Math.abs(area(rings[0]))).toBeCloseTo(Math.PI * 100, 0);
  for (let i = 0; i < rings[0].length; i += 2) expect(Math.hypot(rings[0][i], rings[0][i + 1])).toBeCloseTo(10, 1);
});

test('a hole in the middle is a second ring', () => {
  const crater = grid(81, 20, (x, y) => {
    const r = Math.hypot(x, y);
    return r < 4 ? -1 : 12 - r;
  });
  const [rings] = areaAbove(crater, 0);
  expect(rings).toHaveLength(2);
  expect(Math.sign(area(rings[0]))).toBe(-Math.sign(area(rings[1])));
});

test('the line of a level that stays inside is closed', () => {
  const lines = linesAt(bowl, 0);
  expect(lines).toHaveLength(1);
  expect(lines[0][0]).toBeCloseTo(lines[0][lines[0].length - 2], 9);
  expect(lines[0][1]).toBeCloseTo(lines[0][lines[0].length - 1], 9);
});

test('a line that leaves the grid has no stretch along the border', () => {
  const slope = grid(41, 20, (x) => x);
  const lines = linesAt(slope, 3);
  expect(lines).toHaveLength(1);
  for (let i = 0; i < lines[0].length; i += 2) expect(lines[0][i]).toBeCloseTo(3, 6);
  const ys = lines[0].filter((_, i) => i % 2 === 1);
  expect(Math.min(...ys)).toBeLessThan(-19);
  expect(Math.max(...ys)).toBeGreaterThan(19);
});

test('a level nobody reaches has no area and no line', () => {
  expect(areaAbove(bowl, 200).flat()).toEqual([]);
  expect(linesAt(bowl, 200)).toEqual([]);
});

test('values that are not finite count as far below', () => {
  const holed = grid(81, 20, (x, y) => (Math.hypot(x, y) < 3 ? Number.NaN : 100 - (x * x + y * y)));
  const [rings] = areaAbove(holed, 0);
  expect(rings).toHaveLength(2);
});

describe('the value at a point', () => {
  const plane = grid(11, 10, (x, y) => 3 * x - 2 * y + x * y);
  test('is exact for a bilinear field', () => {
    expect(valueAt(plane, 1.3, -4.7)).toBeCloseTo(3 * 1.3 + 2 * 4.7 - 1.3 * 4.7, 9);
    expect(valueAt(plane, 10, 10)).toBeCloseTo(110, 9);
    expect(valueAt(plane, -10, -10)).toBeCloseTo(90, 9);
  });
  test('is NaN outside', () => {
    expect(valueAt(plane, 10.01, 0)).toBeNaN();
    expect(valueAt(plane, 0, -11)).toBeNaN();
    expect(valueAt(plane, Number.NaN, 0)).toBeNaN();
  });
});
