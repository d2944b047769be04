import { describe, expect, it } from 'vitest';
import { fromState, randomSource } from '../../src/numerics/random.ts';

describe('randomSource', () => {
  it('follows xoshiro128**: first outputs of the state 1, 2, 3, 4', () => {
    // First four words for this state, worked by hand from the published recurrence: 11520, 0, 5927040, 70819200.
    // A 53-bit uniform uses the 27 high bits of one word and the 26 high bits of the next.
    const source = fromState(1, 2, 3, 4);
    expect(source.uniform()).toBe(((11520 >>> 5) * 67108864 + (0 >>> 6)) / 2 ** 53);
    expect(source.uniform()).toBe(((5927040 >>> 5) * 67108864 + (70819200 >>> 6)) / 2 ** 53);
  });

  it('repeats with the seed and differs without', () => {
    const a = randomSource(7).fillUniform(new Float64Array(50));
    const b = randomSource(7).fillUniform(new Float64Array(50));
    const c = randomSource(8).fillUniform(new Float64Array(50));
    expect(a).toEqual(b);
    expect(a).not.toEqual(c);
  });

  it('has the moments of a uniform and of a normal (seed 1, 1e6 draws, 5 sigma)', () => {
    const n = 1_000_000;
    const u = randomSource(1).fillUniform(new Float64Array(n));
    const z = randomSource(2).fillNormal(new Float64Array(n));
    const mean = (x: Float64Array, power: number) => x.reduce((s, v) => s + v ** power, 0) / n;
    expect(Math.abs(mean(u, 1) - 0.5)).toBeLessThan((5 * Math.sqrt(1 / 12)) / Math.sqrt(n));
    expect(Math.abs(mean(u, 2) - 1 / 3)).toBeLessThan((5 * Math.sqrt(4 / 45)) / Math.sqrt(n));
    expect(Math.abs(mean(z, 1))).toBeLessThan(5 / Math.sqrt(n));
    expect(Math.abs(mean(z, 2) - 1)).toBeLessThan((5 * Math.sqrt(2)) / Math.sqrt(n));
    expect(Math.abs(mean(z, 3))).toBeLessThan((5 * Math.sqrt(15)) / Math.sqrt(n));
    expect(Math.abs(mean(z, 4) - 3)).toBeLessThan((5 * Math.sqrt(96)) / Math.sqrt(n));
  });

  it('stays in [0, 1) and fills sixteen bins evenly (chi-square, 15 degrees of freedom, p = 1e-6)', () => {
    const bins = new Float64Array(16);
    const source = randomSource(123456789);
    const n = 160_000;
    let least = 1;
    let most = 0;
    for (let i = 0; i < n; i += 1) {
      const v = source.uniform();
      least = Math.min(least, v);
      most = Math.max(most, v);
      bins[Math.floor(16 * v)] += 1;
    }
    expect(least).toBeGreaterThanOrEqual(0);
    expect(most).toBeLessThan(1);
    const chi = bins.reduce((s, v) => s + (v - n / 16) ** 2 / (n / 16), 0);
    expect(chi).toBeLessThan(56.5);
  });
});
