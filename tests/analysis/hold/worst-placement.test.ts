import { describe, expect, it } from 'vitest';
import { pocketFor } from '../../../src/analysis/hold/device-shape.ts';
import { loosestPlay } from '../../../src/analysis/hold/recess.ts';
import { playBox, recessPlay } from '../../../src/analysis/hold/recess-play.ts';
import { placementName, worstPlacement } from '../../../src/analysis/hold/worst-placement.ts';

const device = { halfWidthMm: 35, halfHeightMm: 25, cornerRadiusMm: 6 };
const none = { pocketMm: 0, deviceMm: 0, coilPositionMm: 0 };

/** A margin that falls with the offset, faster along x, with a turn and a skew: no symmetry to lean on. */
const skewed = (x: number, y: number, yaw: number) =>
  80 - 1.1 * (x - 0.4) ** 2 - 0.7 * (y + 0.3) ** 2 - 0.3 * x * y - 500 * yaw * yaw - 6 * yaw * x;

describe('worstPlacement', () => {
  it.each([0.5, 2, 4])('matches a dense search of turns, edges and coil positions (clearance %f mm)', (clearance) => {
    const coil = 0.4;
    const { play, coilMm } = loosestPlay(device, clearance, { ...none, coilPositionMm: coil }, 'worst', null);
    const found = worstPlacement(play, coilMm, skewed);
    let least = Number.POSITIVE_INFINITY;
    for (let i = -60; i <= 60; i += 1) {
      const yaw = (play.largestYaw * (1 - 1e-12) * i) / 60;
      const box = playBox(play, yaw);
      if (!box) continue;
      for (let k = 0; k < 80; k += 1) {
        // Round the edge of the box; the margin falls outwards, so the edge holds the least.
        const side = Math.floor(k / 20);
        const t = ((k % 20) / 19) * 2 - 1;
        const x = box.halfXMm * [t, t, 1, -1][side];
        const y = box.halfYMm * [1, -1, t, t][side];
        for (let d = 0; d < 36; d += 1) {
          const angle = (Math.PI * d) / 18;
          least = Math.min(least, skewed(x + coil * Math.cos(angle), y + coil * Math.sin(angle), yaw));
        }
      }
    }
    expect(Math.abs(found.marginPercent - least)).toBeLessThan(0.01 * (80 - least));
    expect(skewed(found.xMm, found.yMm, found.yaw)).toBeCloseTo(found.marginPercent, 9);
    // The place found is allowed: it is no farther than the coil tolerance from the box at that turn.
    const box = playBox(play, found.yaw) ?? { halfXMm: 0, halfYMm: 0 };
    const overX = Math.max(0, Math.abs(found.xMm) - box.halfXMm);
    const overY = Math.max(0, Math.abs(found.yMm) - box.halfYMm);
    expect(Math.hypot(overX, overY)).toBeLessThan(coil + 1e-6);
  });

  it('finds a hole in the middle of the play: overfed when centred', () => {
    const overfed = (x: number, y: number) => (Math.hypot(x, y) < 0.5 ? -40 : 60);
    const { play } = loosestPlay(device, 2, none, 'worst', null);
    expect(worstPlacement(play, 0, overfed).marginPercent).toBe(-40);
  });

  it('counts the middle of the pocket from the coil axis', () => {
    const { play } = loosestPlay(device, 1, none, 'worst', null);
    const away = worstPlacement(play, 0, (x) => -x, {}, [3, 0]);
    expect(away.xMm).toBeCloseTo(4, 6);
  });

  it('names places', () => {
    expect(placementName(1, -1, 0.04)).toBe('+x -y corner, turned +2.3 degrees');
    expect(placementName(-1, 0.1, 0)).toBe('-x side, not turned');
    expect(placementName(0, 0, -0.1)).toBe('centre, turned -5.7 degrees');
  });
});

it('names no turn where none matters, and keeps one that does', () => {
  const round = { halfWidthMm: 20, halfHeightMm: 20, cornerRadiusMm: 20 };
  const play = recessPlay(round, pocketFor(round, 1));
  const flat = worstPlacement(play, 0, (x, y) => 50 - x * x - y * y);
  expect(flat.yaw).toBe(0);
  expect(flat.name).toContain('not turned');
  expect(worstPlacement(play, 0, (x, y, yaw) => 50 - x * x - y * y - yaw * yaw).yaw).not.toBe(0);
});
