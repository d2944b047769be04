import { describe, expect, it } from 'vitest';
import {
  addDiscPotential,
  discInPlate,
  type PlacedDisc,
  plateCharges,
  plateEnergy,
  plateOnDiscs,
  softPlate,
} from '../../../src/physics/magnet/soft-plate.ts';
import { steelPlatePull } from '../../../src/physics/magnet/steel-plate.ts';

const magnet = { radius: 4e-3, thickness: 2e-3, remanence: 1.2 };
const wide = softPlate({ shape: 'circle', diameter: 40e-3 }, 4e-3, 1000, { cell: 2e-3, layers: 2 });
const ferrite = softPlate({ shape: 'roundedRectangle', width: 30e-3, height: 20e-3, cornerRadius: 1e-3 }, 1e-3, 700, {
  cell: 2e-3,
  layers: 1,
});
const solve = (plate: typeof wide, discs: PlacedDisc[]) => {
  const potential = addDiscPotential(plate, discs, new Float64Array(plate.panels));
  const charges = plateCharges(plate, potential);
  return { potential, charges, force: plateOnDiscs(plate, discs, charges), energy: plateEnergy(potential, charges) };
};

describe('softPlate with disc magnets', () => {
  it.each([0.5e-3, 1e-3, 2e-3])('a wide thick steel plate pulls like the image method (gap %f m)', (gap) => {
    const { force } = solve(wide, [{ disc: magnet, x: 0, y: 0, z: 2e-3 + gap + 1e-3 }]);
    const image = steelPlatePull(magnet, gap, 1, 1000).pull;
    // 40 mm is not endless and 2 mm panels are coarse: measured 0.5 to 1 %.
    expect(Math.abs(-force.fz / image - 1)).toBeLessThan(0.015);
    expect(Math.abs(force.fx)).toBeLessThan(1e-3 * image);
  });

  it('the force is the slope of the energy', () => {
    const at = (x: number, z: number) => solve(ferrite, [{ disc: magnet, x, y: 3e-3, z }]);
    const step = 2e-5;
    for (const [x, z] of [
      [5e-3, 4e-3],
      [12e-3, 4e-3],
      [18e-3, 5e-3],
    ]) {
      const { force } = at(x, z);
      const size = Math.hypot(force.fx, force.fy, force.fz);
      // Panels may pass from near to far within the step (0.3 % of one panel's part).
      expect(Math.abs(force.fx + (at(x + step, z).energy - at(x - step, z).energy) / (2 * step))).toBeLessThan(
        5e-3 * size,
      );
      expect(Math.abs(force.fz + (at(x, z + step).energy - at(x, z - step).energy) / (2 * step))).toBeLessThan(
        5e-3 * size,
      );
    }
  });

  it('answers reciprocally: charges of one magnet in the potential of another', () => {
    const one = solve(ferrite, [{ disc: magnet, x: 4e-3, y: 0, z: 4e-3 }]);
    const two = solve(ferrite, [{ disc: magnet, x: -7e-3, y: 5e-3, z: 5e-3 }]);
    const dot = (a: Float64Array, b: Float64Array) => a.reduce((s, v, k) => s + v * b[k], 0);
    expect(dot(one.charges, two.potential) / dot(two.charges, one.potential)).toBeCloseTo(1, 9);
    expect(Math.abs(one.charges.reduce((s, q) => s + q, 0))).toBeLessThan(
      1e-9 * one.charges.reduce((s, q) => s + Math.abs(q), 0),
    );
  });

  it('always attracts, the more the higher the permeability, and not at all as it nears 1', () => {
    const pull = (mu: number) => {
      const plate = softPlate({ shape: 'circle', diameter: 20e-3 }, 1e-3, mu, { cell: 2e-3, layers: 1 });
      return -solve(plate, [{ disc: magnet, x: 0, y: 0, z: 3.5e-3 }]).force.fz;
    };
    const values = [1.001, 2, 20, 200, 2000].map(pull);
    for (let k = 0; k + 1 < values.length; k += 1) expect(values[k + 1]).toBeGreaterThan(values[k]);
    expect(values[0]).toBeGreaterThan(0);
    expect(values[0]).toBeLessThan(1e-3 * values[4]);
  });

  it('draws a magnet beside the plate towards it', () => {
    expect(solve(ferrite, [{ disc: magnet, x: 20e-3, y: 0, z: 4e-3 }]).force.fx).toBeLessThan(0);
    expect(solve(ferrite, [{ disc: magnet, x: -20e-3, y: 0, z: 4e-3 }]).force.fx).toBeGreaterThan(0);
  });

  it('finer panels change little (1 %)', () => {
    const pull = (cell: number) =>
      solve(softPlate({ shape: 'circle', diameter: 20e-3 }, 1e-3, 700, { cell, layers: 1 }), [
        { disc: magnet, x: 2e-3, y: 1e-3, z: 3.5e-3 },
      ]).force.fz;
    expect(Math.abs(pull(2e-3) / pull(1e-3) - 1)).toBeLessThan(0.01);
  });

  it('knows when a magnet would pierce the plate', () => {
    const at = (x: number, z: number) => discInPlate(ferrite, { disc: magnet, x, y: 0, z });
    expect(at(0, 1.4e-3)).toBe(true);
    expect(at(0, 1.6e-3)).toBe(false);
    expect(at(18.9e-3, 0)).toBe(true);
    expect(at(19.1e-3, 0)).toBe(false);
    expect(discInPlate(wide, { disc: magnet, x: 24.1e-3, y: 0, z: 0 })).toBe(false);
    expect(discInPlate(wide, { disc: magnet, x: 23.9e-3, y: 0, z: 0 })).toBe(true);
  });

  it('refuses a permeability that attracts nothing', () => {
    expect(() => softPlate({ shape: 'circle', diameter: 1e-2 }, 1e-3, 1, { cell: 2e-3, layers: 1 })).toThrow(/> 1/);
  });
});
