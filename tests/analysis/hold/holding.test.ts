import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { GRAVITY, type HoldingBody, holdDevice, restPolygon } from '../../../src/analysis/hold/holding.ts';
import { discPairForce } from '../../../src/physics/magnet/disc-pair.ts';
import type { MagnetLayout } from '../../../src/physics/magnet/magnet-layout.ts';
import { layoutProfile, type SidewaysForce } from '../../../src/physics/magnet/pair-profile.ts';

const SEED = 404;
const body: HoldingBody = { massKg: 0.18, friction: 0.3, slope: 0, contactRadius: 0.015 };
const magnet = { radius: 4e-3, thickness: 2e-3, remanence: 1.2 };
const one: MagnetLayout = {
  positions: new Float64Array(2),
  polarity: null,
  lower: magnet,
  upper: magnet,
  facing: 'magnet',
  gap: 1.5e-3,
};

/** A made-up spring that pulls home with k r up to r1 and nothing beyond, with a constant pull. */
const spring =
  (k: number, r1: number, pull: number): SidewaysForce =>
  (x, y, _yaw, out) => {
    const on = Math.hypot(x, y) < r1 ? k : 0;
    out[0] = -on * x;
    out[1] = -on * y;
    out[2] = pull;
    out[3] = 0;
    return out;
  };

describe('holdDevice', () => {
  it('worked by hand: a spring against friction', () => {
    const answer = holdDevice(spring(500, 0.012, 4), body);
    const friction = 0.3 * (0.18 * GRAVITY + 4);
    expect(answer.frictionN).toBeCloseTo(friction, 12);
    expect(answer.restBandMm ?? Number.NaN).toBeCloseTo((friction / 500) * 1e3, 4);
    expect(answer.captureRadiusMm).toBeCloseTo(12, 4);
    expect(answer.pullOffN).toBeCloseTo(4 + 0.18 * GRAVITY, 12);
    expect(answer.captureIsSearchEnd).toBe(false);
    expect(answer.slidesOff).toBe(false);
    expect(answer.wrongSeatsMm).toEqual([]);
  });

  it('a slope adds to the band and takes from the weight', () => {
    const slope = 0.4;
    const answer = holdDevice(spring(500, 0.012, 4), { ...body, slope });
    const friction = 0.3 * (0.18 * GRAVITY * Math.cos(slope) + 4);
    expect(answer.restBandMm ?? Number.NaN).toBeCloseTo(((friction + 0.18 * GRAVITY * Math.sin(slope)) / 500) * 1e3, 4);
    expect(answer.slidesOff).toBe(false);
    expect(holdDevice(spring(500, 0.012, 0), { ...body, slope: 0.35 }).slidesOff).toBe(true);
  });

  it('friction that is never beaten: no centring, and it says so', () => {
    const answer = holdDevice(spring(10, 0.012, 4), body);
    expect(answer.restBandMm).toBeNull();
    expect(answer.captureRadiusMm).toBe(0);
    expect(restPolygon(answer)).toHaveLength(0);
    const steel: MagnetLayout = { ...one, facing: 'steel' };
    expect(holdDevice(layoutProfile(steel, 0.03), body).restBandMm).toBeNull();
  });

  it('without friction everything within the attraction comes home to the middle', () => {
    const answer = holdDevice(spring(500, 0.012, 4), { ...body, friction: 0 });
    expect(answer.restBandMm ?? Number.NaN).toBeLessThan(1e-6);
    expect(answer.captureRadiusMm).toBeCloseTo(12, 4);
  });

  it(`one pair: radii solve F = mu N by an independent search on the exact pair force (seed ${SEED})`, () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5e-3, max: 4e-3, noNaN: true }),
        fc.double({ min: 0.05, max: 0.5, noNaN: true }),
        fc.double({ min: 0.02, max: 0.4, noNaN: true }),
        (gap, friction, massKg) => {
          const answer = holdDevice(
            layoutProfile({ ...one, gap }, 0.03),
            { ...body, friction, massKg },
            { directions: 8 },
          );
          const net = (r: number) => {
            const pair = discPairForce(magnet, magnet, r, gap);
            return pair.restoring - friction * Math.max(0, massKg * GRAVITY + pair.pull);
          };
          if (answer.restBandMm === null) {
            for (let r = 0; r < 0.03; r += 0.3e-3) expect(net(r)).toBeLessThan(1e-3);
            return;
          }
          const rest = answer.restBandMm * 1e-3;
          const capture = answer.captureRadiusMm * 1e-3;
          expect(net(rest - 2e-6)).toBeLessThanOrEqual(1e-9);
          expect(net(rest + 2e-6)).toBeGreaterThan(0);
          expect(net(capture - 2e-6)).toBeGreaterThan(0);
          expect(net(capture + 2e-6)).toBeLessThanOrEqual(1e-9);
        },
      ),
      { seed: SEED, numRuns: 25 },
    );
  });

  it('four pairs of one polarity have wrong seats one spacing away; an odd arrangement of poles has fewer', () => {
    const four: MagnetLayout = {
      ...one,
      positions: Float64Array.from([-15, -10, 15, -10, 15, 10, -15, 10], (v) => v * 1e-3),
    };
    const same = holdDevice(layoutProfile(four, 0.045), body, { reach: 0.04 });
    expect(same.wrongSeatsMm.some(([x, y]) => Math.abs(Math.abs(x) - 30) < 3 && Math.abs(y) < 3)).toBe(true);
    const mixed = holdDevice(layoutProfile({ ...four, polarity: Int8Array.from([1, -1, 1, -1]) }, 0.045), body, {
      reach: 0.04,
    });
    expect(mixed.wrongSeatsMm.some(([x, y]) => Math.abs(Math.abs(x) - 30) < 3 && Math.abs(y) < 3)).toBe(false);
    expect(same.restYaw ?? Number.NaN).toBeGreaterThan(0);
    expect(same.restYaw ?? Number.NaN).toBeLessThan(0.2);
  });

  it('refuses what cannot be', () => {
    expect(() => holdDevice(spring(1, 1, 1), { ...body, massKg: 0 })).toThrow(/deviceMassG/);
    expect(() => holdDevice(spring(1, 1, 1), { ...body, friction: -1 })).toThrow(/friction/);
    expect(() => holdDevice(spring(1, 1, 1), { ...body, slope: 2 })).toThrow(/tableAngleDeg/);
  });
});
