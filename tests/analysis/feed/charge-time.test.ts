import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Cell, cellOf, restVoltage } from '../../../src/analysis/feed/cell.ts';
import { chargeAfter, chargeTime, type HeatLimit } from '../../../src/analysis/feed/charge-time.ts';
import type { CellDocument } from '../../../src/design/types.ts';
import { chainCases, within } from './chain-cases.ts';

interface Inputs {
  readonly capacityAh: number;
  readonly resistanceOhm: number;
  readonly chargeVoltageV: number;
  readonly cutoffA: number;
  readonly currentA: number;
  readonly emptyV?: number;
  readonly restV?: [number, number][];
  readonly inputV?: number;
  readonly heatW?: number | null;
  readonly fromCharge?: number;
}

function cell(inputs: Inputs): Cell {
  const step: CellDocument = {
    kind: 'cell',
    voltageV: 3.7,
    selfDischargePercentPerMonth: 0,
    emptyV: 3.5,
    restV: [],
    ...inputs,
  };
  return cellOf(step);
}

test.each(chainCases<Inputs>('charge-time'))('check value: $id', ({ inputs, expected, tolerance }) => {
  const hours = chargeTime(cell(inputs), inputs.currentA).totalS / 3600;
  expect(Math.abs(hours - expected)).toBeLessThanOrEqual(within(expected, tolerance));
});

test.each(chainCases<Inputs>('charge-time-integrated'))('integrated by SciPy: $id', (row) => {
  const { inputV = 5, heatW, fromCharge = 0, currentA } = row.inputs;
  const limit = heatW === null || heatW === undefined ? null : { inputV, powerW: heatW };
  const hours = chargeTime(cell(row.inputs), currentA, fromCharge, limit).totalS / 3600;
  expect(Math.abs(hours - row.expected)).toBeLessThanOrEqual(within(row.expected, row.tolerance));
});

/** Time by small steps of charge, with the heat limit searched by bisection: nothing in common with the closed forms. */
function bySteps(model: Cell, currentA: number, from: number, end: number, limit: HeatLimit | null): number {
  const steps = 4000;
  let sum = 0;
  for (let i = 0; i < steps; i++) {
    const e = restVoltage(model, from + ((end - from) * (i + 0.5)) / steps);
    let amperes = Math.min(currentA, (model.chargeV - e) / model.resistance);
    const heat = (x: number) => (limit ? (limit.inputV - e - model.resistance * x) * x - limit.powerW : -1);
    const peak = limit ? Math.min(amperes, (limit.inputV - e) / (2 * model.resistance)) : 0;
    if (limit && heat(peak) > 0) {
      let low = 0;
      let high = peak;
      for (let k = 0; k < 50; k++) {
        const middle = (low + high) / 2;
        if (heat(middle) > 0) high = middle;
        else low = middle;
      }
      amperes = low;
    }
    sum += (model.capacity * (end - from)) / steps / amperes;
  }
  return sum;
}

test('agrees with small steps for any cell, current and heat (seed 72)', () => {
  const part = fc.double({ min: 0, max: 1, noNaN: true });
  fc.assert(
    fc.property(part, part, part, part, part, (a, b, c, d, e) => {
      const model = cell({
        capacityAh: 1,
        resistanceOhm: 0.02 + 0.6 * a,
        chargeVoltageV: 4.2,
        cutoffA: 0.05,
        currentA: 0,
        restV: [
          [0, 3.1],
          [0.1 + 0.3 * b, 3.6],
          [0.9, 3.6 + 0.5 * c],
          [1, 4.2],
        ],
      });
      const currentA = 0.1 + 1.5 * d;
      const limit = e < 0.2 ? null : { inputV: 4.6 + 2 * c, powerW: 0.2 + e };
      const exact = chargeTime(model, currentA, 0.05, limit);
      const stepped = bySteps(model, currentA, 0.05, exact.endCharge, limit);
      expect(Math.abs(exact.totalS / stepped - 1)).toBeLessThan(2e-3);
    }),
    { seed: 72, numRuns: 60 },
  );
});

describe('ends of the range', () => {
  const model = cell({ capacityAh: 2, resistanceOhm: 0.15, chargeVoltageV: 4.2, cutoffA: 0.1, currentA: 1 });

  test('no current, no end', () => {
    expect(chargeTime(model, 0).totalS).toBe(Number.POSITIVE_INFINITY);
    expect(chargeTime(model, 1, 0, { inputV: 5, powerW: 0 }).totalS).toBe(Number.POSITIVE_INFINITY);
    // A linear charger needs more in front than the cell holds at the end.
    expect(chargeTime(model, 1, 0, { inputV: 4.1, powerW: 9 }).totalS).toBe(Number.POSITIVE_INFINITY);
  });

  test('a full cell takes no time, half the current almost twice', () => {
    expect(chargeTime(model, 1, 1).totalS).toBe(0);
    const ratio = chargeTime(model, 0.2).constantCurrentS / chargeTime(model, 0.4).constantCurrentS;
    expect(ratio).toBeGreaterThan(2);
    expect(ratio).toBeLessThan(2.3);
  });

  test('without resistance there is no second phase', () => {
    const plain = { ...model, resistance: 0 };
    expect(chargeTime(plain, 1)).toMatchObject({ constantVoltageS: 0, totalS: 7200, endCharge: 1 });
  });

  test('charge after a time is the inverse', () => {
    const all = chargeTime(model, 0.5, 0.2);
    const at = chargeAfter(model, 0.5, 0.2, all.totalS / 3);
    expect(all.totalS - chargeTime(model, 0.5, at).totalS).toBeCloseTo(all.totalS / 3, 3);
    expect(chargeAfter(model, 0.5, 0.2, 1e9)).toBe(all.endCharge);
    expect(chargeAfter(model, 0, 0.2, 1e9)).toBe(0.2);
  });
});
