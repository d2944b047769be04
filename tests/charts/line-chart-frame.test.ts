import { expect, test } from 'vitest';
import { curveAt, lineFrame, marginDomain } from '../../src/charts/line-chart-frame.ts';

test('the domain of margins holds what is worth seeing and always zero', () => {
  expect(marginDomain([])).toEqual([-20, 100]);
  const [low, high] = marginDomain([[112, 80, 20, -30, -90]]);
  expect(high).toBeGreaterThanOrEqual(112);
  expect(low).toBeLessThan(0);
  // The deep fall beyond collapse must not press the rest flat.
  expect(low).toBeGreaterThanOrEqual(-50);
  expect(marginDomain([[Number.NaN, 30]])[1]).toBeGreaterThanOrEqual(30);
  expect(marginDomain([[-95, -99]])[1]).toBeGreaterThan(0);
});

test('a curve is read by linear interpolation, and not beyond its ends', () => {
  const x = Float64Array.from([0, 2, 4, 8]);
  const y = Float64Array.from([10, 6, 6, -2]);
  expect(curveAt(x, y, 1)).toBe(8);
  expect(curveAt(x, y, 4)).toBe(6);
  expect(curveAt(x, y, 6)).toBe(2);
  expect(curveAt(x, y, 8)).toBe(-2);
  expect(curveAt(x, y, 8.1)).toBeNaN();
  expect(curveAt(x, y, -0.1)).toBeNaN();
  expect(curveAt(new Float64Array(), new Float64Array(), 0)).toBeNaN();
});

test('the frame keeps its plot inside', () => {
  const frame = lineFrame({ width: 260, height: 200, xDomain: [0, 16], yDomain: [-20, 100], left: 54, bottom: 24 });
  expect(frame.x(0)).toBe(frame.plot.x);
  expect(frame.x(16)).toBe(frame.plot.x + frame.plot.width);
  expect(frame.y(-20)).toBe(frame.plot.y + frame.plot.height);
  expect(frame.y(0)).toBeLessThan(frame.y(-20));
});
