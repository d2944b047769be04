import { describe, expect, it } from 'vitest';
import { pocketFor } from '../../../src/analysis/hold/device-shape.ts';
import { drawPlacements, type Placing } from '../../../src/analysis/hold/placements.ts';
import { playAllows, recessPlay } from '../../../src/analysis/hold/recess-play.ts';
import { normalProbability } from '../../../src/numerics/normal-distribution.ts';

const SEED = 77;
const gaussian: Placing = { kind: 'gaussian', sigmaXMm: 4, sigmaYMm: 3, sigmaYaw: 0.09 };
const device = { halfWidthMm: 35, halfHeightMm: 25, cornerRadiusMm: 6 };
const count = 40_000;
const spread = (v: Float64Array) => Math.sqrt(v.reduce((s, x) => s + x * x, 0) / v.length);

describe('drawPlacements', () => {
  it(`free Gaussian has the stated scatter (seed ${SEED}, 5 sigma)`, () => {
    const p = drawPlacements(gaussian, count, SEED, null);
    const allowed = 5 / Math.sqrt(2 * count);
    expect(Math.abs(spread(p.xMm) / 4 - 1)).toBeLessThan(allowed);
    expect(Math.abs(spread(p.yMm) / 3 - 1)).toBeLessThan(allowed);
    expect(Math.abs(spread(p.yaw) / 0.09 - 1)).toBeLessThan(allowed);
  });

  it('even over a disc: mean square radius is half the square', () => {
    const p = drawPlacements({ kind: 'disc', radiusMm: 6, halfYaw: 0.2 }, count, SEED, null);
    const r2 = p.xMm.reduce((s, x, k) => s + x * x + p.yMm[k] ** 2, 0) / count;
    expect(r2 / 18).toBeCloseTo(1, 1);
    expect(Math.max(...p.xMm)).toBeLessThanOrEqual(6);
    expect(spread(p.yaw)).toBeCloseTo(0.2 / Math.sqrt(3), 2);
  });

  it('even over a rectangle', () => {
    const p = drawPlacements({ kind: 'rectangle', halfXMm: 6, halfYMm: 2, halfYaw: 0 }, count, SEED, null);
    expect(spread(p.xMm)).toBeCloseTo(6 / Math.sqrt(3), 1);
    expect(spread(p.yMm)).toBeCloseTo(2 / Math.sqrt(3), 1);
    expect(Math.max(...p.yaw)).toBe(0);
  });

  it.each([0.5, 2, 8])('in a recess every placement is allowed (clearance %f mm)', (clearance) => {
    const play = recessPlay(device, pocketFor(device, clearance));
    for (const placing of [gaussian, { kind: 'disc', radiusMm: 5, halfYaw: 0.2 } as const]) {
      const p = drawPlacements(placing, 5000, SEED, play);
      for (let k = 0; k < 5000; k += 1) expect(playAllows(play, p.xMm[k], p.yMm[k], p.yaw[k])).toBe(true);
    }
  });

  it.each([0.6, 5])('follows the cut-off scatter exactly (clearance %f mm: against plain rejection)', (clearance) => {
    // Independent: draw freely and keep what fits; compare the second moments.
    const play = recessPlay(device, pocketFor(device, clearance));
    const tight: Placing = { kind: 'gaussian', sigmaXMm: 1.2, sigmaYMm: 0.8, sigmaYaw: 0.02 };
    const free = drawPlacements(tight, 400_000, SEED + 1, null);
    const kept = { x: 0, y: 0, yaw: 0, n: 0 };
    for (let k = 0; k < free.xMm.length; k += 1) {
      if (!playAllows(play, free.xMm[k], free.yMm[k], free.yaw[k])) continue;
      kept.x += free.xMm[k] ** 2;
      kept.y += free.yMm[k] ** 2;
      kept.yaw += free.yaw[k] ** 2;
      kept.n += 1;
    }
    const p = drawPlacements(tight, count, SEED, play);
    expect(kept.n).toBeGreaterThan(10_000);
    for (const [mine, theirs] of [
      [spread(p.xMm) ** 2, kept.x / kept.n],
      [spread(p.yMm) ** 2, kept.y / kept.n],
      [spread(p.yaw) ** 2, kept.yaw / kept.n],
    ])
      expect(Math.abs(mine / theirs - 1)).toBeLessThan(0.05);
  });

  it('one coordinate cut off has the textbook variance', () => {
    // No turn, circle in a wide slot: x is a Gaussian cut off at +-3 mm with sigma 4.
    const round = { halfWidthMm: 20, halfHeightMm: 20, cornerRadiusMm: 20 };
    const play = recessPlay(round, { halfWidthMm: 23, halfHeightMm: 60, cornerRadiusMm: 0 });
    const p = drawPlacements({ kind: 'gaussian', sigmaXMm: 4, sigmaYMm: 1, sigmaYaw: 0 }, count, SEED, play);
    const z = 0.75;
    const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
    const variance = 16 * (1 - (2 * z * density) / (2 * normalProbability(z) - 1));
    expect(spread(p.xMm) ** 2 / variance).toBeCloseTo(1, 1);
    expect(spread(p.yMm)).toBeCloseTo(1, 1);
  });

  it('no clearance leaves the middle; a list is pressed to the walls', () => {
    const snug = recessPlay(device, pocketFor(device, 0));
    const p = drawPlacements(gaussian, 10, SEED, snug);
    expect(Math.max(...p.xMm.map(Math.abs), ...p.yMm.map(Math.abs))).toBeLessThan(1e-9);
    const play = recessPlay(device, pocketFor(device, 1));
    const list: Placing = {
      kind: 'list',
      xMm: Float64Array.of(5, 0.2),
      yMm: Float64Array.of(-9, 0),
      yaw: Float64Array.of(0, 0),
    };
    const pressed = drawPlacements(list, 2, 1, play);
    expect(Array.from(pressed.xMm)).toEqual([1, 0.2]);
    expect(Array.from(pressed.yMm)).toEqual([-1, 0]);
    expect(Array.from(list.xMm)).toEqual([5, 0.2]);
  });

  it('same seed, same placements', () => {
    expect(drawPlacements(gaussian, 100, 5, null)).toEqual(drawPlacements(gaussian, 100, 5, null));
    expect(drawPlacements(gaussian, 100, 5, null)).not.toEqual(drawPlacements(gaussian, 100, 6, null));
  });

  it('refuses a negative scatter and an empty list', () => {
    expect(() => drawPlacements({ ...gaussian, sigmaXMm: -1 }, 10, 1, null)).toThrow(/sigmaXMm/);
    const empty = new Float64Array(0);
    expect(() => drawPlacements({ kind: 'list', xMm: empty, yMm: empty, yaw: empty }, 1, 1, null)).toThrow(
      /at least one/,
    );
  });
});
