import { describe, expect, it } from 'vitest';
import { type Condition, flagCondition, safeRegion } from '../../../src/analysis/hold/safe-region.ts';

const N = 61;
const axis = Float64Array.from({ length: N }, (_, i) => -15 + (30 * i) / (N - 1));
const on = (f: (x: number, y: number) => number) => {
  const out = new Float64Array(N * N);
  for (let j = 0; j < N; j += 1) for (let i = 0; i < N; i += 1) out[j * N + i] = f(axis[i], axis[j]);
  return out;
};
const smooth = (name: string, f: (x: number, y: number) => number): Condition => ({ name, slack: on(f), smooth: true });

describe('safeRegion', () => {
  it('an ellipse: reach is the short half-axis, in its direction', () => {
    const region = safeRegion(axis, axis, [smooth('margin', (x, y) => 1 - (x / 9) ** 2 - (y / 5) ** 2)]);
    expect(region.restIsSafe).toBe(true);
    expect(region.reachMm).toBeCloseTo(5, 2);
    expect(Math.abs(Math.abs(region.tightestDeg) - 90)).toBeLessThan(2);
    expect(region.areaMm2 / (Math.PI * 45)).toBeCloseTo(1, 3);
    expect(region.limitedBy).toBe('margin');
    expect(region.reachIsGridEdge).toBe(false);
    expect(region.inner.nearestMm).toBe(0);
  });

  it('about a resting place off the middle', () => {
    const region = safeRegion(axis, axis, [smooth('margin', (x, y) => 64 - x * x - y * y)], { restMm: [3, 0] });
    expect(region.reachMm).toBeCloseTo(5, 2);
    expect(Math.abs(region.tightestDeg)).toBeLessThan(3);
  });

  it('several conditions: the first to fail limits', () => {
    const region = safeRegion(axis, axis, [
      smooth('margin', (x, y) => 10 - Math.hypot(x, y)),
      smooth('wakes', (x, y) => 7 - Math.hypot(x - 1, y)),
      smooth('cool', () => 5),
    ]);
    expect(region.limitedBy).toBe('wakes');
    expect(region.reachMm).toBeCloseTo(6, 2);
    expect(Math.abs(Math.abs(region.tightestDeg) - 180)).toBeLessThan(3);
  });

  it('a hole at the rest: no reach, inner limit from the hole, outer end of the ring', () => {
    const region = safeRegion(axis, axis, [
      smooth('margin', (x, y) => 10 - Math.hypot(x, y)),
      smooth('not overfed', (x, y) => Math.hypot(x - 0.5, y) - 2),
    ]);
    expect(region.restIsSafe).toBe(false);
    expect(region.reachMm).toBe(0);
    expect(region.outline).toHaveLength(2);
    expect(region.inner.nearestMm).toBeCloseTo(1.5, 2);
    expect(region.inner.fromMm ?? Number.NaN).toBeCloseTo(2.5, 2);
    expect(region.inner.toMm ?? Number.NaN).toBeCloseTo(10, 2);
  });

  it('a hole away from the rest limits the reach', () => {
    const region = safeRegion(axis, axis, [
      smooth('margin', (x, y) => 12 - Math.hypot(x, y)),
      smooth('cool', (x, y) => Math.hypot(x - 6, y) - 2),
    ]);
    expect(region.reachMm).toBeCloseTo(4, 2);
    expect(region.limitedBy).toBe('cool');
  });

  it('an island that does not hold the rest: nearest distance, no ring', () => {
    const region = safeRegion(axis, axis, [smooth('margin', (x, y) => 3 - Math.hypot(x - 8, y))]);
    expect(region.restIsSafe).toBe(false);
    expect(region.inner.nearestMm).toBeCloseTo(5, 2);
    expect(region.inner.fromMm).toBeNull();
  });

  it('nothing safe; everything safe up to the edge', () => {
    const none = safeRegion(axis, axis, [smooth('margin', () => -1)]);
    expect(none.outline).toEqual([]);
    expect(none.reachMm).toBe(0);
    expect(none.tightestDeg).toBeNaN();
    const all = safeRegion(axis, axis, [smooth('margin', () => 1)]);
    expect(all.reachMm).toBeCloseTo(15, 6);
    expect(all.reachIsGridEdge).toBe(true);
    expect(all.limitedBy).toBeNull();
  });

  it('yes-or-no flags put the border midway and never hide a smooth limit', () => {
    const step = 0.5;
    const flags = on((x, y) => (Math.hypot(x, y) <= 8 ? 1 : 0));
    const region = safeRegion(axis, axis, [smooth('margin', () => 40), flagCondition('wakes', flags)]);
    expect(Math.abs(region.reachMm - 8)).toBeLessThan(step);
    const both = safeRegion(axis, axis, [
      smooth('margin', (x, y) => 5 - Math.hypot(x, y)),
      flagCondition('wakes', flags),
    ]);
    expect(both.reachMm).toBeCloseTo(5, 2);
  });

  it('is the same for any grid that resolves it: 31 to 121 points', () => {
    const reach = (n: number) => {
      const a = Float64Array.from({ length: n }, (_, i) => -12 + (24 * i) / (n - 1));
      const slack = new Float64Array(n * n);
      for (let j = 0; j < n; j += 1)
        for (let i = 0; i < n; i += 1) slack[j * n + i] = Math.exp(-(a[i] ** 2 + 1.4 * a[j] ** 2) / 60) - 0.5;
      return safeRegion(a, a, [{ name: 'margin', slack, smooth: true }]).reachMm;
    };
    const exact = Math.sqrt((60 * Math.log(2)) / 1.4);
    expect(Math.abs(reach(31) - exact)).toBeLessThan(5e-3);
    expect(Math.abs(reach(61) - exact)).toBeLessThan(1e-3);
    expect(Math.abs(reach(121) - exact)).toBeLessThan(3e-4);
  });

  it('refuses arrays of the wrong length, naming the condition', () => {
    expect(() => safeRegion(axis, axis, [{ name: 'cool', slack: new Float64Array(5), smooth: true }])).toThrow(
      /conditions\.cool.*3721 values.*received 5/,
    );
  });
});
