import { describe, expect, it } from 'vitest';
import { allowedCorners, attitudeRange } from '../../../src/analysis/hold/attitude-range.ts';
import type { Design } from '../../../src/design/types.ts';
import { demo, RECESS } from './demo-design.ts';

const stack = [
  { name: 'oak', thicknessMm: 5, toleranceMm: 0.3 },
  { name: 'air', thicknessMm: 0.1, toleranceMm: 0.2 },
];
const design: Design = { ...demo({ recess: RECESS }), stack, placement: { ...demo().placement, gapMm: 5.1 } };

describe('attitudeRange', () => {
  it('a wedge lifts one edge by the tolerances and lowers the other, no layer thinner than nothing', () => {
    const { tiltX, tiltY, thinnestMm, nominalMm, thickestMm } = attitudeRange(design);
    // 0.3 of the oak and 0.1 of the air (there is no more of it) at the edge of a device 72 by 58 mm.
    expect(36 * Math.tan(tiltY)).toBeCloseTo(0.4, 12);
    expect(29 * Math.tan(tiltX)).toBeCloseTo(0.4, 12);
    expect([thinnestMm, nominalMm, thickestMm]).toEqual([expect.closeTo(4.6, 9), 5.1, expect.closeTo(5.6, 9)]);
  });

  it('the turn is the loosest pocket’s: its corner touches the wall', () => {
    const sharp = { ...RECESS, outline: { ...RECESS.outline, outerCornerRadiusMm: 0 } } as typeof RECESS;
    const { yaw } = attitudeRange({ ...design, holding: { ...design.holding, recess: sharp } });
    // A rectangle w by h turned by a needs w cos a + h sin a along x, and h cos a + w sin a along y.
    const [w, h, room] = [72, 58, 2 * (1 + 0.1 + 0.1)];
    const needs = Math.max(
      w * Math.cos(yaw) + h * Math.sin(yaw) - (w + room),
      h * Math.cos(yaw) + w * Math.sin(yaw) - (h + room),
    );
    expect(needs).toBeCloseTo(0, 6);
  });

  it('without a stack there is no wedge, and the gap is its own worst', () => {
    expect(attitudeRange({ ...design, stack: [] })).toMatchObject({
      tiltX: 0,
      tiltY: 0,
      thinnestMm: 5.1,
      thickestMm: 5.1,
    });
  });
});

describe('allowedCorners', () => {
  it('every corner is allowed: gap and wedge together stay within the tolerances at the device’s edges', () => {
    const range = attitudeRange(design);
    const corners = allowedCorners(range);
    expect(corners).toHaveLength(21);
    for (const { gapMm, tiltX, tiltY, yaw } of corners) {
      expect(Math.abs(yaw)).toBeLessThanOrEqual(range.yaw);
      for (const [x, y] of [
        [36, 29],
        [-36, 29],
        [36, -29],
        [-36, -29],
      ]) {
        const thick = gapMm + y * Math.tan(tiltX) - x * Math.tan(tiltY);
        expect(thick).toBeGreaterThan(4.6 - 1e-9);
        expect(thick).toBeLessThan(5.6 + 1e-9);
      }
    }
  });

  it('names nothing twice', () => {
    const none = { yaw: 0, tiltX: 0, tiltY: 0, thinnestMm: 5, nominalMm: 5, thickestMm: 5 };
    expect(allowedCorners(none)).toEqual([{ gapMm: 5, yaw: 0, tiltX: 0, tiltY: 0 }]);
    expect(allowedCorners({ ...none, yaw: 0.1 })).toHaveLength(3);
  });
});
