import { describe, expect, it } from 'vitest';
import { MAGNET_CONDUCTIVITY, magnetHeating } from '../../../src/physics/magnet/eddy-heating.ts';

const magnet = { radius: 3e-3, thickness: 2e-3, remanence: 1.2 };
const MU0 = 4e-7 * Math.PI;

describe('magnetHeating', () => {
  it('slow fields: pi sigma w^2 B^2 R^4 h / 16 (textbook)', () => {
    const w = 2 * Math.PI * 500;
    const classical = (Math.PI * MAGNET_CONDUCTIVITY * w * w * 1e-6 * magnet.radius ** 4 * magnet.thickness) / 16;
    expect(magnetHeating(magnet, 500, 1e-3).powerW / classical).toBeCloseTo(1, 4);
  });
  it('fast fields: surface resistance times the surface (textbook)', () => {
    const frequency = 5e8;
    const depth = 1 / Math.sqrt(Math.PI * frequency * MU0 * MAGNET_CONDUCTIVITY);
    const h = 1e-3 / MU0;
    const surface = ((0.5 * h * h) / (MAGNET_CONDUCTIVITY * depth)) * 2 * Math.PI * magnet.radius * magnet.thickness;
    const found = magnetHeating(magnet, frequency, 1e-3);
    expect(found.powerW / surface).toBeCloseTo(1, 1);
    expect(found.skinDepth).toBeCloseTo(depth, 12);
  });
  it('grows with the square of the field and says that it is an order of magnitude', () => {
    const one = magnetHeating(magnet, 150e3, 1e-3);
    expect(magnetHeating(magnet, 150e3, 2e-3).powerW / one.powerW).toBeCloseTo(4, 10);
    expect(one.note).toContain('Order of magnitude');
    expect(magnetHeating(magnet, 150e3, 0).powerW).toBe(0);
  });
});
