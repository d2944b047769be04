import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Cell, cellOf, chargeAtRest, restEnergy, restVoltage } from '../../../src/analysis/feed/cell.ts';
import { chainOf } from '../../../src/analysis/feed/chain-of.ts';
import type { CellDocument } from '../../../src/design/types.ts';
import { demoWith } from './designs.ts';

const demoCell = (): CellDocument => chainOf(demoWith()).cell as CellDocument;
const curved: Cell = {
  ...cellOf(demoCell()),
  charge: Float64Array.of(0, 0.1, 0.5, 1),
  restV: Float64Array.of(3, 3.6, 3.6, 4.2),
};

test('a straight line from empty to the charge voltage', () => {
  const cell = cellOf(demoCell());
  expect(restVoltage(cell, 0.5)).toBeCloseTo(3.85, 12);
  expect([restVoltage(cell, -1), restVoltage(cell, 2)]).toEqual([3.5, 4.2]);
  // 1.8 Ah at 3.85 V on average, by hand.
  expect(restEnergy(cell, 0, 1) / 3600).toBeCloseTo(6.93, 12);
});

test('charge and voltage at rest are each other’s inverse; on a flat piece the far end counts', () => {
  expect(chargeAtRest(curved, 3.6)).toBe(0.5);
  expect([chargeAtRest(curved, 2.9), chargeAtRest(curved, 4.5)]).toEqual([0, 1]);
  fc.assert(
    fc.property(fc.double({ min: 0.5, max: 1, noNaN: true }), (charge) => {
      expect(chargeAtRest(curved, restVoltage(curved, charge))).toBeCloseTo(charge, 9);
    }),
    { seed: 78, numRuns: 100 },
  );
});

test('energy adds up over any split (seed 79)', () => {
  fc.assert(
    fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (split) => {
      const parts = restEnergy(curved, 0, split) + restEnergy(curved, split, 1);
      expect(parts).toBeCloseTo(restEnergy(curved, 0, 1), 6);
    }),
    { seed: 79, numRuns: 100 },
  );
});
