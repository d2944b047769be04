import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../../src/numerics/random.ts';
import { modesOfGrid, planeSpectrum } from '../../../../src/physics/coil/kernel/plane-spectrum.ts';

describe('spectrum of current elements', () => {
  it.each([64, 128, 256])('equals the defining sum at every mode kept, grid %i', (grid) => {
    const random = randomSource(grid);
    const side = 0.13;
    const count = 60;
    const row = (most: number) => Float64Array.from({ length: count }, () => most * (2 * random.uniform() - 1));
    const currents = { x: row(0.4 * side), y: row(0.4 * side), dx: row(1e-3), dy: row(1e-3) };
    const modes = modesOfGrid(grid);
    const out = planeSpectrum(currents, { side, inner: 0.4 * side, grid, modes });
    let length = 0;
    for (let i = 0; i < count; i++) length += Math.hypot(currents.dx[i]!, currents.dy[i]!);
    let worst = 0;
    for (const n of [0, 1, modes >> 1, modes]) {
      for (const m of [-modes, -3, 0, 1, modes >> 1, modes]) {
        const sums = [0, 0, 0, 0];
        for (let i = 0; i < count; i++) {
          const phase = (-2 * Math.PI * (n * currents.x[i]! + m * currents.y[i]!)) / side;
          sums[0]! += currents.dx[i]! * Math.cos(phase);
          sums[1]! += currents.dx[i]! * Math.sin(phase);
          sums[2]! += currents.dy[i]! * Math.cos(phase);
          sums[3]! += currents.dy[i]! * Math.sin(phase);
        }
        const k = (m + modes) * (modes + 1) + n;
        [out.xRe, out.xIm, out.yRe, out.yIm].forEach((part, index) => {
          worst = Math.max(worst, Math.abs(part[k]! - sums[index]!));
        });
      }
    }
    expect(worst).toBeLessThan(3e-9 * length);
  });

  it('keeps the oversampling that the accuracy rests on', () => {
    for (const grid of [64, 128, 256, 1024]) expect(grid / (2 * modesOfGrid(grid))).toBeGreaterThanOrEqual(1.6);
  });
});
