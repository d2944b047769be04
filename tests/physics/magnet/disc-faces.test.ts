import { describe, expect, it } from 'vitest';
import { faceEnergy, faceIntegrals, NEAREST } from '../../../src/physics/magnet/disc-faces.ts';

describe('faceIntegrals', () => {
  it('touching: the axial part is 2 pi times the overlap area (field of a wide charged sheet)', () => {
    const r1 = 5e-3;
    const r2 = 4e-3;
    expect(faceIntegrals(r1, r2, 0, 0).axial / (2 * Math.PI * Math.PI * r2 * r2)).toBeCloseTo(1, 8);
    // Lens of two equal circles one radius apart: r^2 (2 pi/3 - sqrt(3)/2), textbook.
    const lens = r1 * r1 * ((2 * Math.PI) / 3 - Math.sqrt(3) / 2);
    expect(faceIntegrals(r1, r1, r1, 0).axial / (2 * Math.PI * lens)).toBeCloseTo(1, 7);
  });

  it('coaxial equal discs in one plane: the mean distance integral 16 pi/3 R^3', () => {
    // Self-energy of a uniformly charged disc: double integral of 1/r = 16 pi R^3 / 3 (textbook).
    expect(faceEnergy(1, 1, 0, 0) / ((16 * Math.PI) / 3)).toBeCloseTo(1, 8);
  });

  it('far apart is point to point', () => {
    const area = Math.PI * Math.PI;
    const far = faceIntegrals(1, 1, 300, 400);
    expect(far.axial / ((area * 400) / 500 ** 3)).toBeCloseTo(1, 4);
    expect(far.radial / ((area * 300) / 500 ** 3)).toBeCloseTo(1, 4);
  });

  it('exchanging the discs changes neither force part', () => {
    const one = faceIntegrals(3, 5, 4, 0.7);
    const two = faceIntegrals(5, 3, 4, 0.7);
    expect(one.axial).toBeCloseTo(two.axial, 11);
    expect(one.radial).toBeCloseTo(two.radial, 11);
  });

  it('holds nearer distances at the stated limit', () => {
    expect(faceIntegrals(1, 1, 0.2, 0)).toEqual(faceIntegrals(1, 1, 0.2, NEAREST));
  });
});
