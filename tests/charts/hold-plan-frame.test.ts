import { describe, expect, test } from 'vitest';
import { type HoldPlanData, outlinePoints, planExtents, planFrame } from '../../src/charts/hold-plan-frame.ts';
import { planLabels } from '../../src/charts/hold-plan-labels.ts';
import { planReading } from '../../src/charts/hold-plan-reading.ts';

const circle = (radius: number, x = 0, y = 0) =>
  Float64Array.from({ length: 96 }, (_, k) => {
    const angle = (2 * Math.PI * Math.floor(k / 2)) / 48;
    return k % 2 === 0 ? x + radius * Math.cos(angle) : y + radius * Math.sin(angle);
  });

const data: HoldPlanData = {
  restMm: [2, -1],
  yawDeg: 0,
  transmitterMm: circle(22),
  receiverMm: circle(20),
  device: { halfWidthMm: 38, halfHeightMm: 28, cornerRadiusMm: 9 },
  pocket: { halfWidthMm: 39, halfHeightMm: 29, cornerRadiusMm: 9 },
  playMm: { halfXMm: 1, halfYMm: 1 },
  safe: [circle(6), circle(2, 3, 0)],
  safeAtWorst: [circle(4)],
  magnets: {
    positionsMm: [
      [-41, 0],
      [41, 0],
    ],
    radiusMm: 4,
  },
  captureMm: circle(8),
  restBandMm: circle(2),
  placements: { xMm: Float64Array.of(0), yMm: Float64Array.of(0), works: Uint8Array.of(1) },
  began: { xMm: Float64Array.of(5), yMm: Float64Array.of(0) },
};

describe('the plan’s frame', () => {
  test('shows the whole device and its magnets, or the middle with everything in it', () => {
    const whole = planExtents(data, 'device');
    expect(whole.halfXMm).toBeGreaterThanOrEqual(45);
    expect(whole.halfYMm).toBeGreaterThanOrEqual(29);
    const middle = planExtents(data, 'middle');
    expect(middle.halfXMm).toBeGreaterThanOrEqual(8);
    expect(middle.halfXMm).toBeLessThan(15);
    expect(middle.halfXMm).toBe(middle.halfYMm);
  });

  test('is true to scale, y up, the resting place in the middle, and reads back', () => {
    const frame = planFrame(data, 700, 46, 32, 460);
    expect(frame.x(2)).toBeCloseTo(frame.plot.x + frame.plot.width / 2, 9);
    expect(frame.y(-1)).toBeCloseTo(frame.plot.y + frame.plot.height / 2, 9);
    expect(frame.x(12) - frame.x(2)).toBeCloseTo(frame.y(-11) - frame.y(-1), 9);
    expect(frame.y(5)).toBeLessThan(frame.y(0));
    const [x, y] = frame.toMm(frame.x(7.5), frame.y(-3.25));
    expect([x, y]).toEqual([expect.closeTo(7.5, 9), expect.closeTo(-3.25, 9)]);
    expect(frame.plot.height).toBeLessThanOrEqual(460);
  });

  test('outlines have their sizes, turned ones too', () => {
    const points = outlinePoints(data.device, 10, 0, Math.PI / 2);
    const xs = points.filter((_, k) => k % 2 === 0);
    const ys = points.filter((_, k) => k % 2 === 1);
    expect(Math.max(...xs)).toBeCloseTo(10 + 28, 9);
    expect(Math.max(...ys)).toBeCloseTo(38, 9);
  });
});

test('labels: only of what is drawn, each with places to stand', () => {
  const frame = planFrame(data, 700, 46, 32, 460);
  const width = (text: string) => 6 * text.length;
  const all = planLabels(data, frame, width).map((label) => label.text);
  expect(all).toEqual(expect.arrayContaining(['safe', 'capture', 'rest band', 'play', 'device', 'recess']));
  const bare = planLabels({ ...data, pocket: null, playMm: null, captureMm: null, restBandMm: null }, frame, width);
  expect(bare.map((label) => label.text)).not.toContain('recess');
  for (const label of bare) expect(label.candidates.length).toBeGreaterThan(0);
});

test('a place is read with its holes: safe, in the hole, beyond the walls', () => {
  expect(planReading(data, [0, 0])).toBe('x 0, y 0\u00a0mm: safe, the recess does not let it, slides home');
  expect(planReading(data, [3, 0])).toMatch(/: not safe, the recess lets it, may stay here$/);
  expect(planReading(data, [2, 20])).toMatch(/: not safe, the recess does not let it, stays here$/);
});
