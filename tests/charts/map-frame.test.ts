import { describe, expect, test } from 'vitest';
import { mapExtents, mapFrame } from '../../src/charts/map-frame.ts';

describe('the frame of a map', () => {
  test.each([320, 390, 780, 1100])('has one scale for both axes at %i px', (width) => {
    const frame = mapFrame(width, 28, 24, 560);
    expect(frame.x(5) - frame.x(0)).toBeCloseTo(frame.y(0) - frame.y(5), 9);
    expect(frame.halfXMm).toBeGreaterThanOrEqual(28 - 1e-9);
    expect(frame.halfYMm).toBeGreaterThanOrEqual(24 - 0.1);
    expect(frame.plot.x + frame.plot.width).toBeLessThanOrEqual(width);
  });
  test('goes there and back', () => {
    const frame = mapFrame(700, 30, 20, 500);
    const [x, y] = frame.toMm(frame.x(3.7), frame.y(-8.1));
    expect(x).toBeCloseTo(3.7, 9);
    expect(y).toBeCloseTo(-8.1, 9);
  });
  test('keeps to the tallest plot and shows more to the sides instead', () => {
    const frame = mapFrame(900, 25, 25, 400);
    expect(frame.plot.height).toBeLessThanOrEqual(400);
    expect(frame.halfXMm).toBeGreaterThan(40);
  });
});

test('the extents show both coils whole, wherever the receiver lies and however it is turned', () => {
  const transmitter = { halfWidthMm: 22, halfHeightMm: 22 };
  const receiver = { halfWidthMm: 23, halfHeightMm: 16.5 };
  for (const pose of [
    { xMm: 0, yMm: 0, yawDeg: 0 },
    { xMm: 14, yMm: -9, yawDeg: 30 },
    { xMm: -30, yMm: 2, yawDeg: 90 },
  ]) {
    const { halfXMm, halfYMm } = mapExtents(transmitter, receiver, pose);
    expect(halfXMm).toBeGreaterThanOrEqual(22);
    // Corners of the turned rectangle, by hand.
    const t = (pose.yawDeg * Math.PI) / 180;
    for (const [u, v] of [
      [23, 16.5],
      [23, -16.5],
      [-23, 16.5],
      [-23, -16.5],
    ]) {
      expect(Math.abs(pose.xMm + u * Math.cos(t) - v * Math.sin(t))).toBeLessThanOrEqual(halfXMm);
      expect(Math.abs(pose.yMm + u * Math.sin(t) + v * Math.cos(t))).toBeLessThanOrEqual(halfYMm);
    }
  }
});
