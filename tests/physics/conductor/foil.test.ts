import { describe, expect, test } from 'vitest';
import { dowellFactor, foilFieldFactor, foilSkinFactor } from '../../../src/physics/conductor/foil.ts';
import { expectRegion, referenceRegions } from '../coil/reference.ts';

describe('foil', () => {
  // Dowell, Proc. IEE 113 (1966) 1387; values by integrating the current density.
  test.each(referenceRegions('skin-proximity', (id) => id.startsWith('dowell')))('$name', (region) => {
    expectRegion(region, ({ inputs: { h_over_delta, layers } }) => dowellFactor(h_over_delta, layers));
  });

  test('thin and thick limits, joined smoothly', () => {
    for (const factor of [foilSkinFactor, foilFieldFactor]) {
      expect(factor(0)).toBe(1);
      expect(Math.abs(factor(0.1 * (1 + 1e-9)) - factor(0.1 * (1 - 1e-9)))).toBeLessThan(1e-8);
    }
    // Both faces carry half the current in one depth each; losses of a conducting wall. Textbook.
    expect(foilSkinFactor(1000)).toBeCloseTo(500, 9);
    expect(foilFieldFactor(1000) * 1000 ** 3).toBeCloseTo(6, 9);
  });
});
