import { describe, expect, it } from 'vitest';
import { safeVolume, worstSlack } from '../../../src/analysis/hold/region-sums.ts';

describe('region sums', () => {
  it('worst of several fields, unknown counting as unmet', () => {
    expect(Array.from(worstSlack([Float64Array.of(1, 2, 3), Float64Array.of(3, Number.NaN, -1)]))).toEqual([
      1,
      Number.NEGATIVE_INFINITY,
      -1,
    ]);
  });

  it('volume over gap: exact for areas that are parabolas', () => {
    const gaps = [2, 3, 5, 6, 9];
    const area = (g: number) => 100 - (g - 4) ** 2;
    const exact = 700 - (5 ** 3 + 2 ** 3) / 3;
    expect(safeVolume(gaps, gaps.map(area))).toBeCloseTo(exact, 9);
    expect(safeVolume([1, 2], [4, 6])).toBe(5);
    expect(safeVolume([1], [4])).toBe(0);
  });
});
