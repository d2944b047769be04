import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../src/numerics/random.ts';
import { discPairForce } from '../../../src/physics/magnet/disc-pair.ts';
import { HOME, layoutForce, type MagnetLayout } from '../../../src/physics/magnet/magnet-layout.ts';
import { layoutProfile, pairProfile, profileAt } from '../../../src/physics/magnet/pair-profile.ts';

const SEED = 13;
const small = { radius: 4e-3, thickness: 2e-3, remanence: 1.2 };
const wide = { radius: 5e-3, thickness: 1e-3, remanence: 1.2 };

describe('pairProfile', () => {
  it.each([0.1e-3, 1e-3, 5e-3])(
    `is the pair force to 1e-9 of the aligned pull at a gap of %f m (seed ${SEED})`,
    (gap) => {
      const profile = pairProfile(small, wide, gap, 0.06);
      const strength = discPairForce(small, wide, 0, gap).pull;
      const random = randomSource(SEED);
      const out = new Float64Array(3);
      for (let k = 0; k < 150; k += 1) {
        const x = 0.06 * random.uniform() ** 2;
        profileAt(profile, x, out);
        const exact = discPairForce(small, wide, x, gap);
        expect(Math.abs(out[0] - exact.pull)).toBeLessThan(1e-9 * strength);
        expect(Math.abs(out[1] - exact.restoring)).toBeLessThan(1e-9 * strength);
        expect(Math.abs(out[2] - exact.tipping)).toBeLessThan(1e-9 * strength * wide.radius);
      }
      expect(Array.from(profileAt(profile, 0.07, out))).toEqual([0, 0, 0]);
    },
  );
});

describe('layoutProfile', () => {
  const layout: MagnetLayout = {
    positions: Float64Array.from([-15, -10, 15, -10, 12, 10], (v) => v * 1e-3),
    polarity: Int8Array.from([1, -1, 1]),
    lower: wide,
    upper: small,
    facing: 'magnet',
    gap: 2e-3,
  };
  it(`is layoutForce without tilt (seed ${SEED})`, () => {
    const force = layoutProfile(layout, 0.02);
    const random = randomSource(SEED);
    const out = new Float64Array(4);
    for (let k = 0; k < 20; k += 1) {
      const x = 0.02 * (2 * random.uniform() - 1);
      const y = 0.01 * (2 * random.uniform() - 1);
      const yaw = random.uniform() - 0.5;
      force(x, y, yaw, out);
      const exact = layoutForce(layout, { ...HOME, x, y, yaw });
      expect(out[0]).toBeCloseTo(exact.fx, 8);
      expect(out[1]).toBeCloseTo(exact.fy, 8);
      expect(out[2]).toBeCloseTo(-exact.fz, 8);
      expect(out[3]).toBeCloseTo(exact.tz, 9);
    }
  });
  it('steel: pull only', () => {
    const out = layoutProfile({ ...layout, facing: 'steel' }, 0.02)(1e-3, 0, 0.1, new Float64Array(4));
    expect(out[0]).toBe(0);
    expect(out[2]).toBeCloseTo(-layoutForce({ ...layout, facing: 'steel' }, HOME).fz, 12);
  });
});
