import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { discPairForce } from '../../../src/physics/magnet/disc-pair.ts';
import {
  checkLayout,
  HOME,
  layoutForce,
  layoutStiffness,
  type MagnetLayout,
} from '../../../src/physics/magnet/magnet-layout.ts';

const SEED = 99;
const magnet = { radius: 4e-3, thickness: 2e-3, remanence: 1.2 };
const four: MagnetLayout = {
  positions: Float64Array.from([-15, -10, 15, -10, 15, 10, -15, 10], (v) => v * 1e-3),
  polarity: null,
  lower: magnet,
  upper: magnet,
  facing: 'magnet',
  gap: 2e-3,
};

describe('layoutForce', () => {
  it('one pair in the middle is that pair', () => {
    const one = { ...four, positions: new Float64Array(2) };
    const force = layoutForce(one, { ...HOME, x: 3e-3, y: -4e-3 });
    const pair = discPairForce(magnet, magnet, 5e-3, 2e-3);
    expect(force.fz).toBeCloseTo(-pair.pull, 12);
    expect(force.fx).toBeCloseTo(-0.6 * pair.restoring, 12);
    expect(force.fy).toBeCloseTo(0.8 * pair.restoring, 12);
    expect(Math.hypot(force.tx, force.ty)).toBeCloseTo(Math.abs(pair.tipping), 12);
  });

  it('at home nothing pushes sideways or turns, and every magnet of the other side counts', () => {
    const force = layoutForce(four, HOME);
    for (const value of [force.fx, force.fy, force.tx, force.ty, force.tz]) expect(Math.abs(value)).toBeLessThan(1e-12);
    const own = 4 * discPairForce(magnet, magnet, 0, 2e-3).pull;
    const neighbours =
      4 *
      (discPairForce(magnet, magnet, 30e-3, 2e-3).pull +
        discPairForce(magnet, magnet, 20e-3, 2e-3).pull +
        discPairForce(magnet, magnet, Math.hypot(30e-3, 20e-3), 2e-3).pull);
    expect(-force.fz).toBeCloseTo(own + neighbours, 10);
    expect(neighbours).toBeLessThan(0);
  });

  it(`yaw torque is the turn gradient of the same energy as the sideways force (seed ${SEED})`, () => {
    // For a turn about the centre: d fx / d yaw at (x, y) = d tz / d x (mixed derivatives of one energy).
    fc.assert(
      fc.property(
        fc.double({ min: -6e-3, max: 6e-3, noNaN: true }),
        fc.double({ min: -6e-3, max: 6e-3, noNaN: true }),
        fc.double({ min: -0.3, max: 0.3, noNaN: true }),
        (x, y, yaw) => {
          const h = 1e-5;
          const a = 1e-3;
          const at = (dx: number, dYaw: number) => layoutForce(four, { ...HOME, x: x + dx, y, yaw: yaw + dYaw });
          const left = (at(0, a).fx - at(0, -a).fx) / (2 * a);
          const right = (at(h, 0).tz - at(-h, 0).tz) / (2 * h);
          expect(Math.abs(left - right)).toBeLessThan(1e-4 * 20);
        },
      ),
      { seed: SEED, numRuns: 20 },
    );
  });

  it('turning the whole arrangement turns the force with it', () => {
    const square: MagnetLayout = {
      ...four,
      positions: Float64Array.from([-10, -10, 10, -10, 10, 10, -10, 10], (v) => v * 1e-3),
    };
    const a = layoutForce(square, { ...HOME, x: 2e-3, y: 1e-3 });
    const b = layoutForce(square, { ...HOME, x: -1e-3, y: 2e-3 });
    expect(b.fx).toBeCloseTo(-a.fy, 11);
    expect(b.fy).toBeCloseTo(a.fx, 11);
    expect(b.tz).toBeCloseTo(a.tz, 12);
  });

  it('small tilt joins on to the parallel form, and tilting brings the lower side nearer', () => {
    const flat = layoutForce(four, { ...HOME, x: 1e-3 });
    const tilted = layoutForce(four, { ...HOME, x: 1e-3, tiltY: 1e-7 });
    expect(Math.abs(tilted.fz - flat.fz)).toBeLessThan(1e-4);
    const lean = layoutForce(four, { ...HOME, tiltX: 0.02 });
    expect(lean.tx).toBeGreaterThan(0);
    expect(-lean.fz).toBeGreaterThan(-layoutForce(four, HOME).fz);
  });

  it('alternating poles hold sideways the harder', () => {
    const alternating = { ...four, polarity: Int8Array.from([1, -1, 1, -1]) };
    expect(layoutStiffness(alternating).sidewaysX).toBeGreaterThan(layoutStiffness(four).sidewaysX);
    expect(-layoutForce(alternating, HOME).fz).toBeGreaterThan(-layoutForce(four, HOME).fz);
  });

  it('steel pulls but does not centre; it tips towards itself', () => {
    const steel: MagnetLayout = { ...four, facing: 'steel' };
    const force = layoutForce(steel, { ...HOME, x: 3e-3, yaw: 0.1 });
    expect(force.fx).toBe(0);
    expect(force.tz).toBe(0);
    expect(-force.fz).toBeGreaterThan(0);
    expect(layoutForce(steel, { ...HOME, tiltX: 0.02 }).tx).toBeGreaterThan(0);
    expect(layoutForce(steel, { ...HOME, tiltY: 0.02 }).ty).toBeGreaterThan(0);
  });
});

describe('layoutStiffness', () => {
  it('is the slope of the force', () => {
    const k = layoutStiffness(four);
    const x = 20e-6;
    expect(-layoutForce(four, { ...HOME, x }).fx / x / k.sidewaysX).toBeCloseTo(1, 3);
    expect(-layoutForce(four, { ...HOME, yaw: 1e-3 }).tz / 1e-3 / k.yaw).toBeCloseTo(1, 3);
    expect((layoutForce(four, { ...HOME, z: x }).fz - layoutForce(four, HOME).fz) / x / k.lift).toBeCloseTo(1, 1);
  });

  it('of one free pair obeys Earnshaw: sideways twice plus along the axis is zero', () => {
    // Laplace: the stiffnesses of a rigid magnet moved without turning add up to nothing.
    const one = { ...four, positions: new Float64Array(2) };
    const k = layoutStiffness(one);
    expect(Math.abs(k.sidewaysX + k.sidewaysY - k.lift) / k.lift).toBeLessThan(1e-4);
  });
});

describe('checkLayout', () => {
  it('refuses none, too many, overlapping', () => {
    expect(() => checkLayout({ ...four, positions: new Float64Array(0) })).toThrow(/1 to 8/);
    expect(() => checkLayout({ ...four, positions: new Float64Array(40) })).toThrow(/1 to 8/);
    expect(() => checkLayout({ ...four, positions: Float64Array.from([0, 0, 7e-3, 0]) })).toThrow(
      /8\.00 mm.*7\.00 mm between 1 and 2/,
    );
    expect(() => checkLayout(four)).not.toThrow();
  });
});
