import { describe, expect, it } from 'vitest';
import { sampledKernel } from '../../../../src/physics/coil/kernel/offset-spectrum.ts';

describe('sampled kernel', () => {
  const box = { side: 0.1, inner: 0.04, grid: 64, modes: 20 };
  const edge = box.grid / 2 + 1;

  /** Field at a grid point from the quarter spectrum, all modes. */
  function fieldAt(quarter: Float64Array, r: number, c: number): number {
    let sum = 0;
    for (let m = 0; m < box.grid; m++) {
      for (let n = 0; n < box.grid; n++) {
        const value = quarter[Math.min(m, box.grid - m) * edge + Math.min(n, box.grid - n)]!;
        sum += value * Math.cos((2 * Math.PI * (m * r + n * c)) / box.grid);
      }
    }
    return sum / box.side ** 2;
  }

  it('is 1/distance wherever two currents can meet, summed over heights', () => {
    const heights = [5e-3, 6e-3];
    const quarter = sampledKernel(heights, box);
    const step = box.side / box.grid;
    for (const [r, c] of [
      [0, 0],
      [3, 7],
      [25, 0],
      [25, 25],
    ] as const) {
      const exact = heights.reduce((sum, h) => sum + 1 / Math.hypot(r * step, c * step, h), 0);
      expect(Math.max(r, c) * step).toBeLessThan(box.inner);
      expect(Math.abs(fieldAt(quarter, r, c) / exact - 1)).toBeLessThan(1e-12);
    }
  });

  it('has no kink at the edge: its spectrum falls far below that of the plain samples', () => {
    const bent = sampledKernel([30e-3], box);
    const plain = sampledKernel([30e-3], { ...box, inner: box.side / 2 });
    const high = (quarter: Float64Array) => Math.abs(quarter[20]!) / quarter[0]!;
    expect(high(bent)).toBeLessThan(0.05 * high(plain));
  });
});
