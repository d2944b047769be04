import fc from 'fast-check';
import { expect, test } from 'vitest';
import { chargeFromInputA, chargerPoint, heatLimitOf } from '../../../src/analysis/feed/charger.ts';
import type { ChargerDocument } from '../../../src/design/types.ts';

const charger = (more: Partial<ChargerDocument> = {}): ChargerDocument => ({
  kind: 'charger',
  topology: 'linear',
  efficiency: 0.9,
  setCurrentA: 0.5,
  foldbackC: 100,
  resistanceKPerW: 60,
  ...more,
});

test('a linear charger burns (5 - V) I and passes its current on', () => {
  // By hand: (5 - 3.7) 0.5 = 0.65 W; 25 + 60 x 0.65 = 64 C.
  expect(chargerPoint(charger(), 0.5, 5, 3.7, 25)).toEqual({
    chargeA: 0.5,
    inputA: 0.5,
    heatW: expect.closeTo(0.65, 12),
    temperatureC: expect.closeTo(64, 9),
    folded: false,
  });
});

test('it folds back at its temperature, and holds it there', () => {
  const point = chargerPoint(charger(), 0.5, 9, 3.5, 40);
  expect(point.folded).toBe(true);
  expect(point.temperatureC).toBeCloseTo(100, 9);
  expect(point.chargeA).toBeCloseTo(1 / 5.5, 12);
});

test('a switching charger draws less than it gives from a higher voltage', () => {
  const point = chargerPoint(charger({ topology: 'switching' }), 0.5, 5, 3.7, 25);
  expect(point.inputA).toBeCloseTo((0.5 * 3.7) / (0.9 * 5), 12);
  expect(point.heatW).toBeCloseTo(5 * point.inputA - 3.7 * 0.5, 12);
  expect(heatLimitOf(charger({ topology: 'switching' }), 5, 25)).toBeNull();
  expect(chargeFromInputA(charger({ topology: 'switching' }), point.inputA, 5, 3.7)).toBeCloseTo(0.5, 12);
});

test('never uphill, never above what is set, power conserved (seed 75)', () => {
  const volt = fc.double({ min: 2, max: 12, noNaN: true });
  fc.assert(
    fc.property(
      volt,
      volt,
      fc.double({ min: 0, max: 3, noNaN: true }),
      fc.boolean(),
      (inputV, cellV, wanted, linear) => {
        const point = chargerPoint(charger({ topology: linear ? 'linear' : 'switching' }), wanted, inputV, cellV, 30);
        if (linear && inputV <= cellV) expect(point.chargeA).toBe(0);
        expect(point.chargeA).toBeLessThanOrEqual(0.5);
        expect(inputV * point.inputA).toBeCloseTo(cellV * point.chargeA + point.heatW, 9);
        expect(point.temperatureC).toBeLessThanOrEqual(100 + 1e-9);
      },
    ),
    { seed: 75, numRuns: 300 },
  );
});
