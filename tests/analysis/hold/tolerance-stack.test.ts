import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gapLimits, stackThickness } from '../../../src/analysis/hold/tolerance-stack.ts';

const SEED = 5;
const layer = (name: string, thicknessMm: number, toleranceMm: number) => ({ name, thicknessMm, toleranceMm });

describe('stackThickness', () => {
  it('worked by hand: the oak shelf', () => {
    const stack = stackThickness([
      layer('oak', 4, 0.3),
      layer('felt', 0.3, 0.1),
      layer('case', 1.2, 0.1),
      layer('air', 0.4, 0.2),
    ]);
    expect(stack.nominalMm).toBeCloseTo(5.9, 12);
    expect(stack.worst.thinnestMm).toBeCloseTo(5.2, 12);
    expect(stack.worst.thickestMm).toBeCloseTo(6.6, 12);
    expect(stack.rss.thickestMm).toBeCloseTo(5.9 + Math.sqrt(0.15), 12);
    expect(stack.shares[0]).toEqual({ name: 'oak', share: expect.closeTo(0.6, 12) });
    expect(stack.shares.reduce((s, v) => s + v.share, 0)).toBeCloseTo(1, 12);
  });
  it(`rss lies within worst case (seed ${SEED})`, () => {
    const any = fc.record({
      name: fc.string(),
      thicknessMm: fc.double({ min: 0, max: 10, noNaN: true }),
      toleranceMm: fc.double({ min: 0, max: 2, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(any, { minLength: 1, maxLength: 8 }), (layers) => {
        const s = stackThickness(layers);
        expect(s.worst.thinnestMm).toBeLessThanOrEqual(s.rss.thinnestMm + 1e-12);
        expect(s.rss.thickestMm).toBeLessThanOrEqual(s.worst.thickestMm + 1e-12);
        expect(s.worst.thinnestMm).toBeGreaterThanOrEqual(0);
      }),
      { seed: SEED, numRuns: 200 },
    );
  });
  it('refuses a negative layer, naming it', () => {
    expect(() => stackThickness([layer('a', 1, 0), layer('b', -1, 0)])).toThrow(/stack\[1\]\.thicknessMm/);
  });
});

describe('gapLimits', () => {
  it('finds both ends of an interval: too near overfeeds, too far starves', () => {
    const limits = gapLimits((g) => 30 - (g - 6) ** 2, 20, 5.9);
    expect(limits.thinnestMm).toBeCloseTo(6 - Math.sqrt(10), 3);
    expect(limits.thickestMm).toBeCloseTo(6 + Math.sqrt(10), 3);
    expect(limits.intervals).toHaveLength(1);
    expect(limits.thinnestIsSearchEnd).toBe(false);
  });
  it('says where the search ended first', () => {
    const limits = gapLimits((g) => 50 - 2 * g, 20, 5, { fromMm: 1, toMm: 30 });
    expect(limits.thinnestMm).toBe(1);
    expect(limits.thinnestIsSearchEnd).toBe(true);
    expect(limits.thickestMm).toBeCloseTo(15, 3);
  });
  it('keeps separate intervals and answers for the one with the nominal gap', () => {
    const wavy = (g: number) => 40 * Math.sin(g);
    const limits = gapLimits(wavy, 0, 7, { fromMm: 0.5, toMm: 12, samples: 200 });
    expect(limits.intervals).toHaveLength(2);
    expect(limits.thinnestMm).toBeCloseTo(2 * Math.PI, 3);
    expect(limits.thickestMm).toBeCloseTo(3 * Math.PI, 3);
  });
  it('says so where the nominal gap fails, still listing what would do', () => {
    const limits = gapLimits((g) => 50 - 5 * g, 20, 12);
    expect(limits.thickestMm).toBeNull();
    expect(limits.intervals[0].toMm).toBeCloseTo(6, 3);
  });
  it('takes unknown margins as none', () => {
    expect(gapLimits(() => Number.NaN, 0, 5).intervals).toEqual([]);
    expect(gapLimits((g) => (g < 8 ? 30 : Number.NEGATIVE_INFINITY), 20, 5).thickestMm).toBeCloseTo(8, 3);
  });
});
