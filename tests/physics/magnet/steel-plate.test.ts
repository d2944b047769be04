import { describe, expect, it } from 'vitest';
import { discPairForce } from '../../../src/physics/magnet/disc-pair.ts';
import { steelPlatePull, tiltedSteelPull } from '../../../src/physics/magnet/steel-plate.ts';

const magnet = { radius: 5e-3, thickness: 2e-3, remanence: 1.2 };

describe('steelPlatePull', () => {
  it.each([0.2e-3, 1e-3, 3e-3])('is the pull of two discs at twice the gap (%f m)', (gap) => {
    expect(steelPlatePull(magnet, gap, 1, Number.POSITIVE_INFINITY).pull).toBeCloseTo(
      discPairForce(magnet, magnet, 0, 2 * gap).pull,
      12,
    );
  });

  it.each([0.1e-3, 0.2e-3, 1e-3, 3e-3])('equals the Maxwell stress on the plate (gap %f m)', (gap) => {
    // Two routes with nothing in common: charged faces against the integral of B^2 / 2 mu0 over the plate.
    expect(steelPlatePull(magnet, gap, 1, Number.POSITIVE_INFINITY).share).toBeGreaterThan(1 - 1e-6);
    expect(steelPlatePull(magnet, gap, 1e3, Number.POSITIVE_INFINITY).share).toBeLessThan(1 + 1e-6);
  });

  it('a piece as wide as the magnet plus its gap keeps most of the stress; ordinary iron is as good as perfect', () => {
    const perfect = steelPlatePull(magnet, 1e-3, 7e-3, Number.POSITIVE_INFINITY);
    const iron = steelPlatePull(magnet, 1e-3, 7e-3, 1000);
    expect(perfect.share).toBeGreaterThan(0.9);
    expect(perfect.share).toBeLessThan(1);
    expect(iron.pull / perfect.pull).toBeCloseTo(999 / 1001, 12);
  });

  it('needs more steel for more flux', () => {
    const near = steelPlatePull(magnet, 0.2e-3, 1).thicknessNeeded;
    const far = steelPlatePull(magnet, 3e-3, 1).thicknessNeeded;
    expect(near).toBeGreaterThan(2 * far);
    // Flux of the whole face through its rim is the upper bound: Br R / 2 / Bs.
    expect(near).toBeLessThan((1.2 * 5e-3) / 2 / 1.6);
  });

  it('refuses a plate of no size and a permeability below one', () => {
    expect(() => steelPlatePull(magnet, 1e-3, 0)).toThrow(/plateRadius/);
    expect(() => steelPlatePull(magnet, 1e-3, 1, 0.5)).toThrow(/relativePermeability/);
  });
});

describe('tiltedSteelPull', () => {
  it('is the flat pull without tilt, with no torque', () => {
    const flat = tiltedSteelPull(magnet, 2.5e-3, 0);
    expect(flat.pull).toBeCloseTo(steelPlatePull(magnet, 1.5e-3, 1).pull, 7);
    expect(Math.abs(flat.righting)).toBeLessThan(1e-12);
  });

  it('derives from an energy: d pull / d tilt = d righting / d height', () => {
    const h = 2.6e-3;
    const e = 1e-5;
    for (const tilt of [0.03, 0.1]) {
      const turn = (tiltedSteelPull(magnet, h, tilt + e).pull - tiltedSteelPull(magnet, h, tilt - e).pull) / (2 * e);
      const lift =
        (tiltedSteelPull(magnet, h + e / 100, tilt).righting - tiltedSteelPull(magnet, h - e / 100, tilt).righting) /
        (e / 50);
      expect(lift / turn).toBeCloseTo(1, 5);
    }
  });
});
