import { describe, expect, it } from 'vitest';
import { type HoldingBody, holdDevice } from '../../../src/analysis/hold/holding.ts';
import { magnetSnap } from '../../../src/analysis/hold/snap.ts';
import { randomSource } from '../../../src/numerics/random.ts';
import type { MagnetLayout } from '../../../src/physics/magnet/magnet-layout.ts';
import { layoutProfile } from '../../../src/physics/magnet/pair-profile.ts';

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

describe('magnetSnap', () => {
  it(`ends every captured placement on the rest band and leaves the others (seed ${SEED})`, () => {
    const answer = holdDevice(layoutProfile(one, 0.03), body);
    const random = randomSource(SEED);
    const n = 2000;
    const before = {
      xMm: random.fillNormal(new Float64Array(n)).map((v) => 5 * v),
      yMm: random.fillNormal(new Float64Array(n)).map((v) => 5 * v),
      yaw: random.fillNormal(new Float64Array(n)).map((v) => 0.1 * v),
    };
    const after = { xMm: before.xMm.slice(), yMm: before.yMm.slice(), yaw: before.yaw.slice() };
    magnetSnap(answer)(after);
    const rest = answer.restBandMm ?? Number.NaN;
    let moved = 0;
    for (let k = 0; k < n; k += 1) {
      const was = Math.hypot(before.xMm[k], before.yMm[k]);
      const is = Math.hypot(after.xMm[k], after.yMm[k]);
      if (was > rest && was <= answer.captureRadiusMm) {
        expect(is).toBeCloseTo(rest, 6);
        moved += 1;
      } else expect(is).toBeCloseTo(was, 12);
      // One pair in the middle cannot turn anything back.
      expect(after.yaw[k]).toBe(before.yaw[k]);
    }
    expect(moved).toBeGreaterThan(200);
  });

  it('turns back where the pairs can', () => {
    const four: MagnetLayout = {
      ...one,
      positions: Float64Array.from([-15, -10, 15, -10, 15, 10, -15, 10], (v) => v * 1e-3),
    };
    const answer = holdDevice(layoutProfile(four, 0.03), body);
    const placed = { xMm: Float64Array.of(0.1), yMm: Float64Array.of(0), yaw: Float64Array.of(0.5) };
    magnetSnap(answer)(placed);
    expect(placed.yaw[0]).toBeCloseTo(answer.restYaw ?? Number.NaN, 12);
  });
});
