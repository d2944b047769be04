import fc from 'fast-check';
import { expect, test } from 'vitest';
import { spread } from '../../src/charts/spread.ts';

test('labels with room stay where they are', () => {
  expect(spread([10, 50, 90], [20, 20, 20], 0, 100)).toEqual([10, 50, 90]);
});

test('two at the same place part evenly', () => {
  expect(spread([50, 50], [20, 20], 0, 100)).toEqual([40, 60]);
});

test('a crowd at the edge is pushed inwards', () => {
  expect(spread([2, 3, 4], [20, 20, 20], 0, 100)).toEqual([10, 30, 50]);
  expect(spread([98, 97], [20, 20], 0, 100)).toEqual([90, 70]);
});

test('nothing overlaps, whatever is wanted (seed 7)', () => {
  const label = fc.record({
    at: fc.double({ min: -50, max: 400, noNaN: true }),
    size: fc.double({ min: 4, max: 40, noNaN: true }),
  });
  fc.assert(
    fc.property(fc.array(label, { minLength: 1, maxLength: 12 }), (labels) => {
      const sizes = labels.map((l) => l.size);
      const at = spread(
        labels.map((l) => l.at),
        sizes,
        0,
        300,
      );
      const order = at.map((_, i) => i).sort((a, b) => at[a] - at[b]);
      for (let i = 1; i < order.length; i += 1) {
        const before = order[i - 1];
        const after = order[i];
        expect(at[after] - at[before]).toBeGreaterThanOrEqual((sizes[before] + sizes[after]) / 2 - 1e-6);
      }
      const total = sizes.reduce((sum, s) => sum + s, 0);
      const first = order[0];
      const last = order[order.length - 1];
      expect(at[first] - sizes[first] / 2).toBeGreaterThanOrEqual(-1e-6);
      if (total <= 300) expect(at[last] + sizes[last] / 2).toBeLessThanOrEqual(300 + 1e-6);
    }),
    { seed: 7, numRuns: 300 },
  );
});

test('the order of the labels is the order wanted (seed 8)', () => {
  fc.assert(
    fc.property(fc.uniqueArray(fc.integer({ min: 0, max: 300 }), { minLength: 2, maxLength: 10 }), (wanted) => {
      const at = spread(
        wanted,
        wanted.map(() => 24),
        0,
        400,
      );
      for (let i = 0; i < wanted.length; i += 1) {
        for (let j = 0; j < wanted.length; j += 1) if (wanted[i] < wanted[j]) expect(at[i]).toBeLessThan(at[j]);
      }
    }),
    { seed: 8 },
  );
});
