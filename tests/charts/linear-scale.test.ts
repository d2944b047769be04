import { scaleLinear } from 'd3-scale';
import { describe, expect, test } from 'vitest';
import { linearScale } from '../../src/charts/linear-scale.ts';

describe('a linear scale', () => {
  // The general-purpose library's scale is the reference.
  test.each([
    [0, 16, 54, 300],
    [-20, 120, 200, 8],
    [-32.5, 32.5, 0, 611],
    [1e-7, 3e-7, 0, 10],
  ])('from %d..%d to %d..%d px is that of the library', (d0, d1, r0, r1) => {
    const own = linearScale([d0, d1], [r0, r1]);
    const reference = scaleLinear([d0, d1], [r0, r1]);
    for (let i = -2; i <= 12; i++) {
      const value = d0 + ((d1 - d0) * i) / 10;
      expect(own(value)).toBeCloseTo(reference(value), 9);
      expect(own.invert(own(value))).toBeCloseTo(value, 12);
    }
    for (const count of [2, 5, 9]) expect(own.ticks(count)).toEqual(reference.ticks(count));
  });

  test('of a domain without width stays at its start', () => {
    const flat = linearScale([3, 3], [0, 100]);
    expect(flat(3)).toBe(0);
    expect(flat.invert(50)).toBe(3);
  });
});
