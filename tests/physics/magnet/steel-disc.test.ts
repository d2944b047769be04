import { describe, expect, it } from 'vitest';
import { profileAt } from '../../../src/physics/magnet/pair-profile.ts';
import { steelDiscForce, steelDiscPlate, steelDiscProfile } from '../../../src/physics/magnet/steel-disc.ts';
import { steelPlatePull } from '../../../src/physics/magnet/steel-plate.ts';

const magnet = { radius: 4e-3, thickness: 2e-3, remanence: 1.2 };
const out = new Float64Array(3);

describe('steelDiscProfile', () => {
  const steel = { radius: 8e-3, thickness: 1.5e-3, relativePermeability: 1000 };
  const profile = steelDiscProfile(magnet, steel, 1e-3, 0.03);
  const bound = steelPlatePull(magnet, 1e-3, 1, 1000).pull;

  it('twice as wide as the magnet: nearly the large plate, never more; it centres', () => {
    profileAt(profile, 0, out);
    expect(out[0]).toBeLessThan(bound);
    expect(out[0]).toBeGreaterThan(0.9 * bound);
    expect(out[1]).toBeCloseTo(0, 12);
    profileAt(profile, 8e-3, out);
    expect(out[1]).toBeGreaterThan(0.1 * bound);
    expect(profileAt(profile, 0.029, out)[0]).toBeLessThan(0.01 * bound);
  });

  it('of the magnet’s own size: about half the pull, and it pushes off centre', () => {
    const own = steelDiscProfile(magnet, { ...steel, radius: 4e-3 }, 1e-3, 0.02);
    profileAt(own, 0, out);
    expect(out[0] / bound).toBeGreaterThan(0.35);
    expect(out[0] / bound).toBeLessThan(0.6);
    profileAt(own, 1e-3, out);
    expect(out[1]).toBeLessThan(0);
    profileAt(own, 5e-3, out);
    expect(out[1]).toBeGreaterThan(0);
  });

  it('work along the offset is the change of energy: pull and restoring force belong together', () => {
    // d restoring / d gap = d pull / d offset, from one energy.
    const plate = steelDiscPlate(steel, 1e-3);
    const at = (x: number, gap: number) => steelDiscForce(plate, magnet, x, 1.75e-3 + gap);
    const h = 5e-5;
    for (const x of [6e-3, 9e-3]) {
      const left = (at(x, 1e-3 + h).restoring - at(x, 1e-3 - h).restoring) / (2 * h);
      const right = (at(x + h, 1e-3).pull - at(x - h, 1e-3).pull) / (2 * h);
      // F = -grad U: restoring = dU/dx, pull = dU/dz.
      expect(Math.abs(left - right)).toBeLessThan(0.05 * Math.abs(right));
    }
  });

  it('panels half the size change the pull by less than a hundredth', () => {
    const coarse = steelDiscForce(steelDiscPlate(steel, 2e-3), magnet, 3e-3, 1.75e-3 + 1e-3);
    const fine = steelDiscForce(steelDiscPlate(steel, 1e-3), magnet, 3e-3, 1.75e-3 + 1e-3);
    expect(Math.abs(coarse.pull / fine.pull - 1)).toBeLessThan(0.01);
  });

  it('refuses a disc of no size', () => {
    expect(() => steelDiscProfile(magnet, { ...steel, thickness: 0 }, 1e-3, 0.02)).toThrow(/steel\.thickness/);
  });
});
