import { expect, test } from 'vitest';
import { currentAtOutput, demandOf } from '../../src/design/demand.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import type { ChainStepDocument, Design, LoadDocument } from '../../src/design/types.ts';

function demo(): Design {
  const result = parseDesign(DEMO_DESIGN);
  if (!result.ok) throw new Error('the demo has faults');
  return result.design;
}

const load = (currentA: number, through: ChainStepDocument[], atV = 5): LoadDocument => ({
  name: 'x',
  kind: 'typical',
  atV,
  currentA,
  durationMs: 0,
  hoursPerDay: 0,
  through,
  alongside: [],
  droopV: 0.25,
  capacitorResistanceOhm: 0.05,
});

const cell: ChainStepDocument = {
  kind: 'cell',
  capacityAh: 2,
  voltageV: 3.7,
  resistanceOhm: 0.15,
  chargeVoltageV: 4.2,
  cutoffA: 0.1,
  emptyV: 3.5,
  restV: [],
  selfDischargePercentPerMonth: 3,
};
const boost = (outputV: number, sourceResistanceOhm: number, efficiency = 0.88): ChainStepDocument => ({
  kind: 'boost',
  outputV,
  efficiency,
  sourceResistanceOhm,
  switchBefore: false,
  idleCurrentA: 0,
  feedback: null,
});
const charger = (topology: 'linear' | 'switching', setCurrentA: number): ChainStepDocument => ({
  kind: 'charger',
  topology,
  efficiency: 0.9,
  setCurrentA,
  foldbackC: 100,
  resistanceKPerW: 60,
});

test('loads are carried back to the output through their chain', () => {
  expect(currentAtOutput(load(0.48, []), 5)).toBeCloseTo(0.48, 12);
  expect(currentAtOutput(load(0.3, [], 3.3), 5)).toBeCloseTo(0.198, 12);
  // Closed form, evaluated independently by hand: (E - R I) I = P / eta with 5.1 V, eta 0.88, 0.15 ohm gives
  // 0.979 A for 0.6 A from 3.7 V, and 1.925 A for 1.0 A from 3.3 V.
  expect(currentAtOutput(load(0.6, [boost(5.1, 0.15)], 5.1), 3.7)).toBeCloseTo(0.979, 3);
  expect(currentAtOutput(load(1, [boost(5.1, 0.15)], 5.1), 3.3)).toBeCloseTo(1.925, 3);
  // Collapse at eta E^2 / (4 R) = 13.20 W from 3.0 V.
  expect(currentAtOutput(load(13.19 / 5.1, [boost(5.1, 0.15)], 5.1), 3)).toBeLessThan(10);
  expect(currentAtOutput(load(13.21 / 5.1, [boost(5.1, 0.15)], 5.1), 3)).toBe(Number.POSITIVE_INFINITY);
  // No source resistance: plain power over efficiency.
  expect(currentAtOutput(load(0.5, [boost(10, 0, 0.8)], 10), 5)).toBeCloseTo(1.25, 12);
});

test('a charger asks for its set current, a cell carries what stands behind it', () => {
  expect(currentAtOutput(load(0.3, [charger('linear', 0.3), cell]), 5)).toBeCloseTo(0.3, 12);
  expect(currentAtOutput(load(2, [charger('linear', 0.3), cell, boost(5.1, 0.15)], 5.1), 5)).toBeCloseTo(0.3, 12);
  expect(currentAtOutput(load(0.3, [charger('switching', 0.5), cell]), 5)).toBeCloseTo((0.5 * 4.2) / (0.9 * 5), 12);
  expect(currentAtOutput(load(2, [cell, boost(5.1, 0.15)], 5.1), 5)).toBe(0);
  expect(currentAtOutput(load(0.2, [charger('linear', 0.3)], 4), 5)).toBeCloseTo(0.2, 12);
});

test('the worst continuous combination counts; peaks stand apart with what runs alongside', () => {
  const design = demo();
  const loads: LoadDocument[] = [
    { ...load(0.1, []), name: 'idle', kind: 'idle' },
    { ...load(0.3, []), name: 'charging', kind: 'charging' },
    { ...load(0.4, []), name: 'playing', alongside: ['charging', 'charging'] },
    { ...load(0.6, []), name: 'loud' },
    { ...load(2, []), name: 'start', kind: 'peak', durationMs: 2, alongside: ['idle'] },
  ];
  const demand = demandOf({ ...design, demand: { ...design.demand, loads } });
  expect(demand.demandA).toBeCloseTo(0.7, 12);
  expect(demand.demandNames).toEqual(['playing', 'charging']);
  expect(demand.peaks).toEqual([{ name: 'start', currentA: 2.1, durationMs: 2 }]);
  expect(demand.idleA).toBe(0.1);
});
