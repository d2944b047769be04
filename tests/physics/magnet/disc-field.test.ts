import { describe, expect, it } from 'vitest';
import { gaussLegendre } from '../../../src/numerics/gauss-legendre.ts';
import { MU0 } from '../../../src/physics/constants.ts';
import { discField, discPotential } from '../../../src/physics/magnet/disc-field.ts';

const out = new Float64Array(2);
const magnet = { radius: 5e-3, thickness: 2e-3, remanence: 1.2 };

describe('discField', () => {
  it('a very flat disc is a single loop: published loop field values', () => {
    // reference/published.json topic 6 (Smythe, Static and Dynamic Electricity 7.10; Simpson et al. NASA/TM-2013-217919),
    // confirmed with a general-purpose magnetic field library: radius 0.05 m, 1 A, in uT.
    const thickness = 1e-6;
    const loop = { radius: 0.05, thickness, remanence: MU0 / thickness };
    for (const [rho, z, br, bz] of [
      [0.03, 0.02, 4.5481955408, 10.138566308],
      [0.05, 0.01, 19.147808428, 5.3427491465],
      [0.08, 0, 0, -2.6630854995],
      [0, 0.05, 0, 4.4428829382],
    ]) {
      discField(loop, rho, z, out);
      expect(Math.abs(out[0] * 1e6 - br)).toBeLessThan(1e-7 * 10);
      expect(Math.abs(out[1] * 1e6 - bz)).toBeLessThan(1e-7 * 10);
    }
  });

  it('on the axis is the textbook end-face formula', () => {
    for (const z of [0, 0.5e-3, 3e-3, 40e-3]) {
      discField(magnet, 0, z, out);
      const end = (d: number) => d / Math.hypot(d, magnet.radius);
      expect(out[1]).toBeCloseTo((magnet.remanence / 2) * (end(z + 1e-3) - end(z - 1e-3)), 14);
      expect(out[0]).toBe(0);
    }
  });

  it('has no divergence and no curl outside', () => {
    const h = 1e-5;
    const at = (rho: number, z: number) => Array.from(discField(magnet, rho, z, out));
    for (const [rho, z] of [
      [4e-3, 2e-3],
      [5e-3, 1.8e-3],
      [7e-3, 0.3e-3],
    ]) {
      const dBrdr = (at(rho + h, z)[0] * (rho + h) - at(rho - h, z)[0] * (rho - h)) / (2 * h * rho);
      const dBzdz = (at(rho, z + h)[1] - at(rho, z - h)[1]) / (2 * h);
      const curl =
        (at(rho, z + h)[0] - at(rho, z - h)[0]) / (2 * h) - (at(rho + h, z)[1] - at(rho - h, z)[1]) / (2 * h);
      expect(Math.abs(dBrdr + dBzdz)).toBeLessThan(1e-3 * Math.abs(dBzdz));
      expect(Math.abs(curl)).toBeLessThan(1e-3 * Math.abs(dBzdz));
    }
  });

  it('jumps by Br through the sheet and is finite on its radius', () => {
    discField(magnet, 5e-3 * (1 - 1e-9), 0, out);
    const inside = out[1];
    discField(magnet, 5e-3 * (1 + 1e-9), 0, out);
    expect(inside - out[1]).toBeCloseTo(1.2, 6);
    discField(magnet, 5e-3, 2e-3, out);
    expect(Number.isFinite(out[0]) && Number.isFinite(out[1])).toBe(true);
  });
});

describe('discPotential', () => {
  it('its gradient is the field', () => {
    const h = 2e-6;
    for (const [rho, z] of [
      [0, 3e-3],
      [2e-3, 3e-3],
      [5e-3, 3e-3],
      [7e-3, 1e-3],
      [7e-3, 0.2e-3],
      [12e-3, -9e-3],
    ]) {
      discField(magnet, rho, z, out);
      const dz = (discPotential(magnet, rho, z + h) - discPotential(magnet, rho, z - h)) / (2 * h);
      expect(Math.abs(-MU0 * dz - out[1])).toBeLessThan(2e-6);
      if (rho > 0) {
        const dr = (discPotential(magnet, rho + h, z) - discPotential(magnet, rho - h, z)) / (2 * h);
        expect(Math.abs(-MU0 * dr - out[0])).toBeLessThan(2e-6);
      }
    }
  });

  it('agrees with the integral over the two charged faces', () => {
    const rule = gaussLegendre(40);
    for (const [rho, z] of [
      [1e-3, 4e-3],
      [8e-3, 0.5e-3],
      [6e-3, -3e-3],
    ]) {
      let sum = 0;
      for (let i = 0; i < 40; i += 1) {
        const r = (magnet.radius * (1 + rule.nodes[i])) / 2;
        for (let j = 0; j < 200; j += 1) {
          const x = rho - r * Math.cos((Math.PI * j) / 100);
          const y = r * Math.sin((Math.PI * j) / 100);
          const area = ((rule.weights[i] * magnet.radius) / 2) * r * (Math.PI / 100);
          sum += area * (1 / Math.hypot(x, y, z - 1e-3) - 1 / Math.hypot(x, y, z + 1e-3));
        }
      }
      expect(discPotential(magnet, rho, z) / ((sum * 1.2) / (4 * Math.PI * MU0))).toBeCloseTo(1, 10);
    }
  });
});
