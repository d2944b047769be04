import { describe, expect, it } from 'vitest';
import { mapLookup } from '../../../src/analysis/hold/batch-lookup.ts';
import { randomSource } from '../../../src/numerics/random.ts';

const SEED = 8;
const axis = (n: number, half: number) => Float64Array.from({ length: n }, (_, i) => -half + (2 * half * i) / (n - 1));
const f = (x: number, y: number, a: number) => 100 * Math.exp(-(x * x + 1.3 * y * y) / 90) - 40 * a * a + 3 * a * x;

function maps(n: number, yaws: number) {
  const x = axis(n, 12);
  const yaw = axis(yaws, 0.2);
  const values = new Float64Array(yaws * n * n);
  for (let k = 0; k < yaws; k += 1)
    for (let j = 0; j < n; j += 1)
      for (let i = 0; i < n; i += 1) values[(k * n + j) * n + i] = f(x[i], x[j], yaws > 1 ? yaw[k] : 0);
  return { xMm: x, yMm: x, yaw: yaws > 1 ? yaw : Float64Array.of(0), values };
}

describe('mapLookup', () => {
  it.each([
    [33, 0.06],
    [65, 0.012],
    [129, 0.002],
  ])(`converges: %i points leave %f percent (seed ${SEED})`, (n, allowed) => {
    const look = mapLookup(maps(n, 1));
    const random = randomSource(SEED);
    const count = 4000;
    const x = random.fillUniform(new Float64Array(count)).map((v) => 24 * v - 12);
    const y = random.fillUniform(new Float64Array(count)).map((v) => 24 * v - 12);
    const out = new Float64Array(count);
    look(x, y, new Float64Array(count), out);
    let worst = 0;
    for (let k = 0; k < count; k += 1) worst = Math.max(worst, Math.abs(out[k] - f(x[k], y[k], 0)));
    expect(worst).toBeLessThan(allowed);
  });

  it('passes through the grid points, turn by turn, and holds the end maps beyond them', () => {
    const m = maps(17, 5);
    const look = mapLookup(m);
    const out = new Float64Array(3);
    look(
      Float64Array.of(m.xMm[3], m.xMm[16], m.xMm[5]),
      Float64Array.of(m.xMm[4], m.xMm[16], m.xMm[5]),
      Float64Array.of(m.yaw[1], m.yaw[4], 9),
      out,
    );
    expect(out[0]).toBeCloseTo(f(m.xMm[3], m.xMm[4], m.yaw[1]), 10);
    expect(out[1]).toBeCloseTo(f(m.xMm[16], m.xMm[16], m.yaw[4]), 10);
    expect(out[2]).toBeCloseTo(f(m.xMm[5], m.xMm[5], m.yaw[4]), 10);
  });

  it('is minus infinity outside the grid and next to what is not known', () => {
    const m = maps(17, 1);
    m.values[8 * 17 + 8] = Number.NEGATIVE_INFINITY;
    const out = new Float64Array(3);
    mapLookup(m)(Float64Array.of(13, 0.1, -11), Float64Array.of(0, 0.1, -11), new Float64Array(3), out);
    expect(out[0]).toBe(Number.NEGATIVE_INFINITY);
    expect(out[1]).toBe(Number.NEGATIVE_INFINITY);
    expect(out[2]).toBeCloseTo(f(-11, -11, 0), 1);
  });

  it('refuses uneven axes and wrong sizes', () => {
    const m = maps(17, 1);
    expect(() => mapLookup({ ...m, xMm: Float64Array.of(0, 1, 3, 4) })).toThrow(/evenly spaced/);
    expect(() => mapLookup({ ...m, yaw: Float64Array.of(0, 1) })).toThrow(/2 maps of 17 x 17/);
  });
});
