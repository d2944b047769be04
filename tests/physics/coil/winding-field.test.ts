import { describe, expect, test } from 'vitest';
import { windingNodes } from '../../../src/physics/coil/nodes.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import { windingField } from '../../../src/physics/coil/winding-field.ts';
import { circle, polygon, RECEIVER, rectanglePoints } from './coils.ts';
import { expectRegion, referenceRegions } from './reference.ts';

const out = new Float64Array(3);
/** Flux density in microtesla per ampere. */
const MICRO = 4e-7 * Math.PI * 1e6;

describe('published closed forms', () => {
  // Smythe; NASA/TM-2013-217919.
  test.each(referenceRegions('filament-field', (id) => id.startsWith('loop-axis')))('$name', (region) => {
    expectRegion(region, ({ inputs: { a_m, z_m } }) => {
      windingField(circle(a_m), 1e-9).at(0, 0, z_m, 0, 0, out);
      return out[2] * MICRO;
    });
  });
  const off = referenceRegions<{ Brho_uT: number; Bz_uT: number }>('filament-field', (id) => id.startsWith('loop-off'));
  test.each(off)('$name', ({ rows, tolerance }) => {
    for (const { inputs, expected } of rows) {
      const { a_m, rho_m, z_m } = inputs as Record<string, number>;
      windingField(circle(a_m), 1e-9).at(0.6 * rho_m, 0.8 * rho_m, z_m, 0, 0, out);
      const size = Math.hypot(expected.Brho_uT, expected.Bz_uT);
      expect(Math.abs((0.6 * out[0] + 0.8 * out[1]) * MICRO - expected.Brho_uT)).toBeLessThan(tolerance.rel * size);
      expect(Math.abs(out[2] * MICRO - expected.Bz_uT)).toBeLessThan(tolerance.rel * size);
    }
  });
  // B = 2 sqrt 2 mu0 I / (pi a) in the centre of a square. Textbook.
  test.each(referenceRegions('filament-field', (id) => id.startsWith('square')))('$name', (region) => {
    expectRegion(region, ({ inputs: { side_m } }) => {
      windingField(polygon(rectanglePoints(side_m, side_m)), 1e-9).at(0, 0, 0, 0, 0, out);
      return out[2] * MICRO;
    });
  });
});

describe('any winding', () => {
  const coil = windCoil(RECEIVER);
  const field = windingField(coil, 1e-7);
  test('agrees with plain Biot-Savart over many nodes, near and far', () => {
    const nodes = windingNodes(coil, 0.1e-3);
    for (const [x, y, z] of [
      [0, 0, 3e-3],
      [21e-3, 5e-3, 2e-3],
      [15e-3, 9e-3, -2e-3],
      [60e-3, 10e-3, 30e-3],
    ]) {
      const sum = [0, 0, 0];
      for (let i = 0; i < nodes.count; i++) {
        const [px, py, pz] = [x - nodes.x[i], y - nodes.y[i], z - nodes.z[i]];
        const factor = 1 / (4 * Math.PI * Math.hypot(px, py, pz) ** 3);
        sum[0] += (nodes.dy[i] * pz - nodes.dz[i] * py) * factor;
        sum[1] += (nodes.dz[i] * px - nodes.dx[i] * pz) * factor;
        sum[2] += (nodes.dx[i] * py - nodes.dy[i] * px) * factor;
      }
      field.at(x, y, z, 0, 0, out);
      const size = Math.hypot(...sum);
      for (let k = 0; k < 3; k++) expect(Math.abs(out[k] - sum[k])).toBeLessThan(1e-6 * size);
    }
  });

  test('skipping and picking pieces add up to the whole', () => {
    const whole = new Float64Array(3);
    const part = new Float64Array(3);
    field.at(18e-3, 2e-3, 1e-3, 0, 0, whole);
    const [from, to] = [field.firstPiece[3], field.firstPiece[4]];
    field.at(18e-3, 2e-3, 1e-3, from, to, out);
    field.of(18e-3, 2e-3, 1e-3, from, to, part);
    for (let k = 0; k < 3; k++) expect(out[k] + part[k]).toBeCloseTo(whole[k], 8);
  });
});
