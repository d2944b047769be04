import { describe, expect, it } from 'vitest';
import { type RecessQuestion, recommendClearance } from '../../../src/analysis/hold/recess.ts';
import { settleRecess } from '../../../src/analysis/hold/recess-settle.ts';
import type { MarginAt } from '../../../src/analysis/hold/worst-placement.ts';

const quick: MarginAt = (x, y, yaw) => 110 - 2.2 * x * x - 2.8 * y * y - 300 * yaw * yaw;
const question = (changes: Partial<RecessQuestion> = {}): RecessQuestion => ({
  device: { halfWidthMm: 36, halfHeightMm: 29, cornerRadiusMm: 8 },
  cornerRadiusMm: null,
  tolerances: { pocketMm: 0.15, deviceMm: 0.15, coilPositionMm: 0.3 },
  wantedPercent: 20,
  marginAt: quick,
  centreMm: [0, 0],
  mostMm: 12,
  search: {},
  ...changes,
});
const both = { x: true, y: true };

function settle(direct: MarginAt, changes: Partial<RecessQuestion> = {}, mirrored = both) {
  const asked = question(changes);
  let solved = 0;
  const answer = settleRecess(
    asked,
    'worst',
    recommendClearance(asked, 'worst'),
    (x, y, yaw) => {
      solved += 1;
      return direct(x, y, yaw);
    },
    mirrored,
  );
  return { ...answer, solved };
}

describe('settleRecess', () => {
  it.each([
    ['the same', quick],
    ['two points lower', (x: number, y: number, yaw: number) => quick(x, y, yaw) - 2],
    ['nine points higher', (x: number, y: number, yaw: number) => quick(x, y, yaw) + 9],
    ['off by a tenth', (x: number, y: number, yaw: number) => 0.9 * quick(x, y, yaw)],
  ])('direct margin %s: met within a twentieth of a point in a few solutions', (_, direct) => {
    const { directPercent, solved, directTries, worst } = settle(direct);
    expect(directPercent).toBeGreaterThanOrEqual(20);
    expect(directPercent).toBeLessThan(20.05);
    expect(direct(worst.xMm, worst.yMm, worst.yaw)).toBeCloseTo(directPercent, 9);
    expect(directTries).toBeLessThanOrEqual(5);
    expect(solved).toBeLessThanOrEqual(10);
  });

  it('a jump, where the link falls asleep, is closed in on to a thousandth of a millimetre', () => {
    const limit = 4.2;
    const direct: MarginAt = (x, y) => (Math.hypot(x, y) < limit ? 60 : -1000);
    const { clearanceMm, directPercent, worst } = settle(direct);
    expect(directPercent).toBe(60);
    expect(Math.hypot(worst.xMm, worst.yMm)).toBeLessThan(limit);
    expect(Math.hypot(worst.xMm, worst.yMm)).toBeGreaterThan(limit - 0.01);
    expect(clearanceMm).not.toBeNull();
  });

  it('no recess at all, and any recess', () => {
    expect(settle(() => 5).clearanceMm).toBeNull();
    const any = settle(() => 90);
    expect(any.unlimited).toBe(true);
    expect(any.clearanceMm).toBe(12);
  });

  it('without mirror images every corner is solved, and the least counts', () => {
    const lopsided: MarginAt = (x, y, yaw) => quick(x, y, yaw) - (x > 0 && y < 0 ? 6 : 0);
    const { directPercent, worst } = settle(lopsided, {}, { x: false, y: false });
    const corners = [1, -1].flatMap((sx) => [1, -1].map((sy) => lopsided(sx * worst.xMm, sy * worst.yMm, worst.yaw)));
    expect(Math.min(...corners)).toBeCloseTo(directPercent, 9);
    expect(directPercent).toBeGreaterThanOrEqual(20);
    expect(directPercent).toBeLessThan(20.05);
  });
});
