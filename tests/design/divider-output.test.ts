import fc from 'fast-check';
import { expect, test } from 'vitest';
import { dividerOutputV, legKohm } from '../../src/design/divider-output.ts';
import type { LegDocument } from '../../src/design/types.ts';

const plain = (resistorKohm: number): LegDocument => ({
  resistorKohm,
  seriesKohm: 0,
  parallelKohm: null,
  trimmerKohm: 0,
  trimmerTurn: 0.5,
});

test('a leg is its row beside the parallel resistor', () => {
  expect(legKohm(plain(15))).toBe(15);
  expect(legKohm({ ...plain(15), seriesKohm: 5, trimmerKohm: 20, trimmerTurn: 0.25 })).toBe(25);
  expect(legKohm({ ...plain(15), parallelKohm: 15 })).toBe(7.5);
});

test('a parallel resistor always makes its leg smaller, a series one larger (seed 61)', () => {
  const size = fc.double({ min: 0.01, max: 1e4, noNaN: true });
  fc.assert(
    fc.property(size, size, (resistor, added) => {
      expect(legKohm({ ...plain(resistor), parallelKohm: added })).toBeLessThan(resistor);
      expect(legKohm({ ...plain(resistor), seriesKohm: added })).toBeGreaterThan(resistor);
    }),
    { seed: 61, numRuns: 200 },
  );
});

test('check value: 0.6 V with 110k over 15k gives 5.0000 V', () => {
  const feedback = {
    referenceV: 0.6,
    referenceTolerancePercent: 2,
    resistorTolerancePercent: 1,
    top: plain(110),
    bottom: plain(15),
  };
  expect(dividerOutputV(feedback)).toBeCloseTo(5, 12);
});
