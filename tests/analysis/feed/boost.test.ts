import fc from 'fast-check';
import { expect, test } from 'vitest';
import { boostCollapseW, boostPoint } from '../../../src/analysis/feed/boost.ts';
import { chainCases, within } from './chain-cases.ts';

interface Inputs {
  readonly sourceV: number;
  readonly resistanceOhm: number;
  readonly efficiency: number;
  readonly outputV: number;
  readonly outputA: number;
}

test.each(chainCases<Inputs>('boost-input'))('check value: $id', ({ inputs, expected, tolerance }) => {
  const { sourceV, resistanceOhm, efficiency, outputV, outputA } = inputs;
  const { inputA } = boostPoint(sourceV, resistanceOhm, outputV * outputA, efficiency);
  expect(Math.abs(inputA - expected)).toBeLessThanOrEqual(within(expected, tolerance));
});

test.each(chainCases<Inputs>('boost-collapse'))('check value: collapse at $id', ({ inputs, expected, tolerance }) => {
  const watts = boostCollapseW(inputs.sourceV, inputs.resistanceOhm, inputs.efficiency);
  expect(Math.abs(watts - expected)).toBeLessThanOrEqual(within(expected, tolerance));
});

test('power is conserved, and the source never gives more than matched power (seed 71)', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1, max: 30, noNaN: true }),
      fc.double({ min: 0.001, max: 5, noNaN: true }),
      fc.double({ min: 0.3, max: 1, noNaN: true }),
      fc.double({ min: 0, max: 2, noNaN: true }),
      (sourceV, ohm, efficiency, share) => {
        const collapseW = boostCollapseW(sourceV, ohm, efficiency);
        const outputW = share * collapseW;
        const point = boostPoint(sourceV, ohm, outputW, efficiency);
        expect(point.collapsed).toBe(share > 1 + 1e-12);
        if (point.collapsed) return;
        const out = outputW + point.sourceLossW + point.converterLossW;
        expect(Math.abs(sourceV * point.inputA - out)).toBeLessThan(1e-7 * (out + 1e-9));
        // The stable branch: at most half the source's voltage is lost.
        expect(point.inputV).toBeGreaterThanOrEqual(sourceV / 2 - 1e-6);
      },
    ),
    { seed: 71, numRuns: 300 },
  );
});

test('without resistance the source never collapses', () => {
  expect(boostPoint(3.7, 0, 100, 0.9)).toMatchObject({ collapsed: false, collapseW: Number.POSITIVE_INFINITY });
});
