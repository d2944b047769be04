import { describe, expect, test } from 'vitest';
import { bandPath, curvePath, polylinePath } from '../../src/charts/svg-path.ts';

const to = { x: (value: number) => 10 * value, y: (value: number) => 100 - value };

describe('paths of curves', () => {
  test('a curve is drawn through its points and breaks where a value is missing', () => {
    expect(curvePath([0, 1, 2], [1, 2, 4], to)).toBe('M0,99L10,98L20,96');
    expect(curvePath([0, 1, 2, 3], [1, Number.NaN, 4, 5], to)).toBe('M0,99M20,96L30,95');
    expect(curvePath([0, 1, 2, 3], [1, 2, 4, 5], to, [1, 2])).toBe('M10,98L20,96');
    expect(curvePath([], [], to)).toBe('');
  });

  test('a band runs along its upper end and back along the lower, one closed piece to each run', () => {
    expect(bandPath([0, 1], [1, 2], [3, 4], to)).toBe('M0,97L10,96L10,98L0,99Z');
    expect(bandPath([0, 1, 2], [1, Number.NaN, 2], [3, 4, 5], to)).toBe('M0,97L0,99ZM20,95L20,98Z');
    expect(bandPath([], [], [], to)).toBe('');
  });

  test('a polyline closes when asked', () => {
    expect(polylinePath([0, 1, 1, 2], to)).toBe('M0,99L10,98');
    expect(polylinePath([0, 1, 1, 2], to, true)).toBe('M0,99L10,98Z');
  });
});
