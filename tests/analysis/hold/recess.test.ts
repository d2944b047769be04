import { describe, expect, it } from 'vitest';
import {
  clearanceStack,
  type RecessQuestion,
  recessNotes,
  recommendClearance,
} from '../../../src/analysis/hold/recess.ts';

const device = { halfWidthMm: 35, halfHeightMm: 25, cornerRadiusMm: 6 };
const none = { pocketMm: 0, deviceMm: 0, coilPositionMm: 0 };

/** A margin that falls with the offset, faster along x, with a turn and a skew: no symmetry to lean on. */
const skewed = (x: number, y: number, yaw: number) =>
  80 - 1.1 * (x - 0.4) ** 2 - 0.7 * (y + 0.3) ** 2 - 0.3 * x * y - 500 * yaw * yaw - 6 * yaw * x;

const question = (changes: Partial<RecessQuestion>): RecessQuestion => ({
  device,
  cornerRadiusMm: null,
  tolerances: none,
  wantedPercent: 20,
  marginAt: skewed,
  centreMm: [0, 0],
  mostMm: 20,
  search: {},
  ...changes,
});

describe('clearanceStack', () => {
  it('adds half of each width tolerance to a side, worst and rss', () => {
    const t = { pocketMm: 0.4, deviceMm: 0.3, coilPositionMm: 0.5 };
    const worst = clearanceStack(1, t, 'worst');
    expect(worst.loosestMm).toBeCloseTo(1.35, 12);
    expect(worst.tightestMm).toBeCloseTo(0.65, 12);
    expect(worst.coilMm).toBe(0.5);
    const rss = clearanceStack(1, t, 'rss');
    expect(rss.loosestMm).toBeCloseTo(1.25, 12);
    // The whole of clearance and coil together is the root of all squares.
    expect(rss.loosestMm - 1 + rss.coilMm).toBeCloseTo(Math.sqrt(0.04 + 0.0225 + 0.25), 12);
  });
});

describe('recommendClearance', () => {
  it('puts the worst corner at the wanted margin, worst and rss', () => {
    const tolerances = { pocketMm: 0.3, deviceMm: 0.2, coilPositionMm: 0.3 };
    const worst = recommendClearance(question({ tolerances }), 'worst');
    const rss = recommendClearance(question({ tolerances }), 'rss');
    for (const answer of [worst, rss]) {
      expect(answer.clearanceMm).not.toBeNull();
      expect(answer.worst.marginPercent).toBeGreaterThanOrEqual(20 - 1e-9);
      expect(answer.worst.marginPercent).toBeLessThan(20.1);
      expect(answer.worst.name).toContain('corner');
    }
    expect(rss.clearanceMm ?? 0).toBeGreaterThan(worst.clearanceMm ?? 0);
    expect(worst.leastMm).toBeCloseTo(0.25, 12);
  });

  it('circle in circle has the closed answer', () => {
    const round = { halfWidthMm: 25, halfHeightMm: 25, cornerRadiusMm: 25 };
    const answer = recommendClearance(
      question({
        device: round,
        marginAt: (x, y) => 100 - 4 * (x * x + y * y),
        tolerances: { pocketMm: 0, deviceMm: 0, coilPositionMm: 0.5 },
      }),
      'worst',
    );
    // 100 - 4 r^2 = 20: r = sqrt(20), of which the coils take 0.5.
    expect(answer.clearanceMm).toBeCloseTo(Math.sqrt(20) - 0.5, 2);
  });

  it('sharp rectangle that may not turn far: the corner of the box', () => {
    const answer = recommendClearance(
      question({
        device: { halfWidthMm: 30, halfHeightMm: 20, cornerRadiusMm: 0 },
        marginAt: (x, y) => 100 - 10 * (Math.abs(x) + Math.abs(y)),
      }),
      'worst',
    );
    expect(answer.clearanceMm).toBeCloseTo(4, 2);
    expect(Math.abs(answer.worst.xMm)).toBeCloseTo(4, 2);
    expect(Math.abs(answer.worst.yMm)).toBeCloseTo(4, 2);
  });

  it('says so where even a tight fit fails, and where anything goes', () => {
    const never = recommendClearance(question({ marginAt: () => 10 }), 'worst');
    expect(never.clearanceMm).toBeNull();
    expect(never.worst.marginPercent).toBe(10);
    const always = recommendClearance(question({ marginAt: () => 90 }), 'worst');
    expect(always.unlimited).toBe(true);
    expect(always.clearanceMm).toBe(20);
  });

  it('bears a link that falls asleep', () => {
    const sleepy = (x: number, y: number) => (Math.hypot(x, y) > 3 ? Number.NEGATIVE_INFINITY : 50);
    const answer = recommendClearance(question({ marginAt: sleepy }), 'worst');
    expect(answer.clearanceMm ?? 0).toBeCloseTo(3 / Math.SQRT2, 2);
    expect(answer.worst.marginPercent).toBe(50);
  });

  it('refuses a negative tolerance', () => {
    expect(() => recommendClearance(question({ tolerances: { ...none, pocketMm: -1 } }), 'worst')).toThrow(
      /pocketMm.*>= 0 mm; received -1 mm/,
    );
  });
});

describe('recessNotes', () => {
  const recess = {
    outline: { shape: 'roundedRectangle' as const, outerWidthMm: 70, outerHeightMm: 50, outerCornerRadiusMm: 6 },
    clearanceMm: 0.1,
    pocketToleranceMm: 0.2,
    deviceToleranceMm: 0.2,
    coilPositionToleranceMm: 0.3,
    draftDeg: 2,
  };
  it('tells of draft, corner radius and devices that will not go in', () => {
    const notes = recessNotes(recess, 5).join('\n');
    expect(notes).toContain('0.17 mm wider on each side');
    expect(notes).toContain('at most 5.90 mm');
    expect(notes).toContain('0.10 mm are missing');
    expect(recessNotes(recess, null)[0]).toContain('0.035 mm on each side for every mm');
  });
});
