import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { discPairForce } from '../../../src/physics/magnet/disc-pair.ts';
import { discForce } from '../../../src/physics/magnet/sheet-force.ts';
import type { BodyPose } from '../../../src/physics/magnet/types.ts';
import { magnetRows } from './reference.ts';

const SEED = 4711;
const disc = (radiusMm: number, thicknessMm: number) => ({
  radius: radiusMm * 1e-3,
  thickness: thicknessMm * 1e-3,
  remanence: 1,
});
const level = (x: number, y: number, z: number): BodyPose => ({ x, y, z, yaw: 0, tiltX: 0, tiltY: 0 });

describe('discForce', () => {
  // Source: reference-cases/magnets/cases.json, independent energy differences.
  it.each(magnetRows('disc-pairs-tilted'))('tilted: $id', ({ inputs, expected, rel, abs }) => {
    const force = discForce(
      disc(inputs.lowerRadiusMm, inputs.lowerThicknessMm),
      disc(inputs.upperRadiusMm, inputs.upperThicknessMm),
      {
        x: inputs.xMm * 1e-3,
        y: inputs.yMm * 1e-3,
        z: inputs.zMm * 1e-3,
        yaw: 0,
        tiltX: inputs.tiltXRad,
        tiltY: inputs.tiltYRad,
      },
    );
    const size = Math.hypot(Number(expected.fxN), Number(expected.fyN), Number(expected.fzN));
    expect(Math.abs(force.fx - Number(expected.fxN))).toBeLessThan(rel * size + abs);
    expect(Math.abs(force.fy - Number(expected.fyN))).toBeLessThan(rel * size + abs);
    expect(Math.abs(force.fz - Number(expected.fzN))).toBeLessThan(rel * size + abs);
  });

  it(`without tilt is the parallel form, which shares no quadrature with it (seed ${SEED})`, () => {
    const length = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        length(2, 10),
        length(0.5, 8),
        length(2, 10),
        length(0.5, 8),
        length(0, 20),
        length(0.05, 1),
        length(0, 6.28),
        (r1, h1, r2, h2, offset, gapShare, angle) => {
          const lower = disc(r1, h1);
          const upper = disc(r2, h2);
          const gap = gapShare * upper.radius;
          const x = offset * 1e-3;
          const z = gap + (lower.thickness + upper.thickness) / 2;
          const force = discForce(lower, upper, level(x * Math.cos(angle), x * Math.sin(angle), z));
          const exact = discPairForce(lower, upper, x, gap);
          const strength = discPairForce(lower, upper, 0, gap).pull;
          const outward = force.fx * Math.cos(angle) + force.fy * Math.sin(angle);
          const tipping = force.ty * Math.cos(angle) - force.tx * Math.sin(angle);
          expect(Math.abs(force.fz + exact.pull)).toBeLessThan(1e-8 * strength);
          expect(Math.abs(outward + exact.restoring)).toBeLessThan(1e-8 * strength);
          expect(Math.abs(tipping - exact.tipping)).toBeLessThan(1e-8 * strength * upper.radius);
          expect(Math.abs(force.tz)).toBeLessThan(1e-9 * strength * upper.radius);
        },
      ),
      { seed: SEED, numRuns: 40 },
    );
  });

  it('balances when tilted: both bodies, computed apart, cancel', () => {
    const a = disc(5, 2);
    const b = disc(4, 3);
    const tilt = 0.2;
    const c = Math.cos(tilt);
    const s = Math.sin(tilt);
    const pose = { x: 2e-3, y: 0.7e-3, z: 4.2e-3, yaw: 0, tiltX: 0, tiltY: tilt };
    const one = discForce(a, b, pose);
    // The lower disc seen from the upper one's frame.
    const two = discForce(b, a, {
      x: -c * pose.x + s * pose.z,
      y: -pose.y,
      z: -s * pose.x - c * pose.z,
      yaw: 0,
      tiltX: 0,
      tiltY: -tilt,
    });
    const fx = c * two.fx + s * two.fz;
    const fz = -s * two.fx + c * two.fz;
    const size = Math.abs(one.fz);
    expect(Math.abs(one.fx + fx)).toBeLessThan(1e-9 * size);
    expect(Math.abs(one.fy + two.fy)).toBeLessThan(1e-9 * size);
    expect(Math.abs(one.fz + fz)).toBeLessThan(1e-9 * size);
    const torqueX = one.tx + c * two.tx + s * two.tz + pose.y * one.fz - pose.z * one.fy;
    const torqueY = one.ty + two.ty + pose.z * one.fx - pose.x * one.fz;
    expect(Math.abs(torqueX)).toBeLessThan(1e-9 * size * a.radius);
    expect(Math.abs(torqueY)).toBeLessThan(1e-9 * size * a.radius);
  });

  it('estimates its own error honestly, touching edges included', () => {
    const a = disc(5, 2);
    for (const gap of [0, 1e-5, 1e-4, 1e-3]) {
      for (const x of [1e-3, 5e-3]) {
        const force = discForce(a, a, level(x, 0, gap + 2e-3));
        const exact = discPairForce(a, a, x, gap);
        const wrong = Math.max(Math.abs(force.fz + exact.pull), Math.abs(force.fx + exact.restoring));
        expect(wrong).toBeLessThan(Math.max(2 * force.errorEstimate, 1e-12));
        expect(wrong).toBeLessThan(1e-4 * discPairForce(a, a, 0, gap).pull);
      }
    }
  });

  it('refuses discs that cross, flat or tilted', () => {
    const a = disc(5, 2);
    expect(() => discForce(a, a, level(0, 0, 1.9e-3))).toThrow(/do not cross/);
    expect(() => discForce(a, a, { ...level(0, 0, 2.2e-3), tiltX: 0.1 })).toThrow(/do not cross/);
    expect(() => discForce(a, a, { ...level(0, 0, 2.6e-3), tiltX: 0.1 })).not.toThrow();
  });
});
