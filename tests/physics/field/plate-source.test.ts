import { expect, it } from 'vitest';
import { MU0 } from '../../../src/physics/constants.ts';
import { plateInField } from '../../../src/physics/field/plate-source.ts';
import { disc } from './fixtures.ts';

it('pulls a small dipole as its image in a large plate does, and is symmetric', () => {
  // Axial dipole m at height h over a half-space of high permeability: energy -mu0 m^2 / (32 pi h^3) (image dipole 2 h
  // away, half counted because induced). Textbook, e.g. Jackson, method of images; derived by hand.
  const plate = plateInField(disc(0.06, 5e-3, 5000, 0)!);
  const dipole = (height: number) => (x: number, y: number, z: number) => {
    const up = 2.5e-3 + height - z;
    return -up / (4 * Math.PI * Math.hypot(x, y, up) ** 3);
  };
  const h = 0.012;
  const a = plate.potential(dipole(h));
  const b = plate.potential(dipole(2 * h));
  const energy = plate.energy(a, a);
  expect(energy).toBeLessThan(0);
  expect(Math.abs(energy / (-MU0 / (32 * Math.PI * h ** 3)) - 1)).toBeLessThan(0.03);
  expect(Math.abs(plate.energy(a, b) / plate.energy(b, a) - 1)).toBeLessThan(1e-9);
  expect(plate.flux(a).largest).toBeGreaterThan(0);
});
