import { expect, it } from 'vitest';
import { convexDistance, type Support } from '../../src/numerics/convex-distance.ts';

const box =
  (cx: number, half: number): Support =>
  (dx, dy, dz, out) => {
    out[0] = cx + (dx >= 0 ? half : -half);
    out[1] = dy >= 0 ? half : -half;
    out[2] = dz >= 0 ? half : -half;
  };
const ball =
  (x: number, y: number, z: number, radius: number): Support =>
  (dx, dy, dz, out) => {
    const scale = radius / (Math.hypot(dx, dy, dz) || 1);
    out[0] = x + scale * dx;
    out[1] = y + scale * dy;
    out[2] = z + scale * dz;
  };

it('measures between boxes and balls', () => {
  expect(convexDistance(box(0, 1), box(3, 1), 1e-9)).toBeCloseTo(1, 9);
  expect(convexDistance(ball(0, 0, 0, 1), ball(2, 2, 1, 0.5), 1e-7)).toBeCloseTo(1.5, 6);
  // Corner of the box to the ball's centre: sqrt(3).
  expect(convexDistance(box(0, 1), ball(2, 2, 2, 0.25), 1e-7)).toBeCloseTo(Math.sqrt(3) - 0.25, 6);
});

it('is zero where bodies touch or overlap', () => {
  expect(convexDistance(box(0, 1), box(1.5, 1), 1e-9)).toBe(0);
  expect(convexDistance(ball(0, 0, 0, 1), ball(0.1, 0.2, 0, 1), 1e-7)).toBe(0);
});
