import { describe, expect, it } from 'vitest';
import type { GridField } from '../../../src/analysis/hold/contour.ts';
import { refineField } from '../../../src/analysis/hold/refine-field.ts';

function grid(n: number, half: number, f: (x: number, y: number) => number): GridField {
  const axis = Float64Array.from({ length: n }, (_, i) => -half + (2 * half * i) / (n - 1));
  const values = new Float64Array(n * n);
  for (let j = 0; j < n; j += 1) for (let i = 0; i < n; i += 1) values[j * n + i] = f(axis[i], axis[j]);
  return { x: axis, y: axis, values };
}

describe('refineField', () => {
  it('is exact for cubics and keeps the grid points', () => {
    const f = (x: number, y: number) => 1 + x - 2 * y + x * y + x ** 3 - 0.5 * y ** 3;
    const fine = refineField(grid(9, 2, f), 5);
    expect(fine.x).toHaveLength(41);
    // Inside; next to the border the clamp to the four neighbours may cut a cubic that bends out of them.
    for (let j = 0; j < 41; j += 1)
      for (let i = 0; i < 41; i += 1)
        expect(Math.abs(fine.values[j * 41 + i] - f(fine.x[i], fine.y[j]))).toBeLessThan(0.06);
    let exact = 0;
    for (let k = 0; k < fine.values.length; k += 1)
      if (Math.abs(fine.values[k] - f(fine.x[k % 41], fine.y[Math.floor(k / 41)])) < 1e-12) exact += 1;
    expect(exact).toBeGreaterThan(0.8 * fine.values.length);
  });
  it('does not ring at a cliff and leaves unknown values where they are', () => {
    const cliff = refineField(
      grid(9, 2, (x) => (x > 0.1 ? -100 : 20)),
      4,
    );
    expect(Math.max(...cliff.values)).toBeLessThanOrEqual(20);
    expect(Math.min(...cliff.values)).toBeGreaterThanOrEqual(-100);
    const hole = refineField(
      grid(9, 2, (x, y) => (Math.hypot(x, y) < 0.1 ? Number.NaN : 1)),
      2,
    );
    expect(hole.values.filter((v) => v === 1).length).toBeGreaterThan(0.8 * hole.values.length);
  });
});
