import fc from 'fast-check';
import { expect, test } from 'vitest';
import { turnedOutlook } from '../../src/scene/outlook.ts';

const QUARTER = Math.PI / 2;

test('a viewer well inside a quarter has that one cut open, however he came there (seed 41)', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 3 }), fc.boolean(), fc.integer({ min: -9, max: 9 }), (from, above, to) => {
      const outlook = turnedOutlook({ quarter: from, above }, (to + 0.5) * QUARTER, above ? -0.5 : 0.5);
      expect(outlook).toEqual({ quarter: ((to % 4) + 4) % 4, above: !above });
    }),
    { seed: 41 },
  );
});

test('just beyond the edge the cut stays, so that it does not flicker', () => {
  const start = { quarter: 0, above: true };
  expect(turnedOutlook(start, -0.1, 0.4)).toBe(start);
  expect(turnedOutlook(start, -0.2, 0.4)).toEqual({ quarter: 3, above: true });
  expect(turnedOutlook(start, 0.4, -0.04)).toBe(start);
  expect(turnedOutlook(start, 0.4, -0.06)).toEqual({ quarter: 0, above: false });
  // And back again not before it is as far on the other side.
  expect(turnedOutlook({ quarter: 3, above: true }, 0.1, 0.4)).toEqual({ quarter: 3, above: true });
});
