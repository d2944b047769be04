import { describe, expect, test } from 'vitest';
import { demandOf } from '../../src/design/demand.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { STARTING_POINTS } from '../../src/design/starting-points.ts';
import { windingFaults } from '../../src/design/wind.ts';
import { faultLine } from '../../src/numerics/errors.ts';

describe.each([{ id: 'demo', document: DEMO_DESIGN }, ...STARTING_POINTS])('$id', ({ document }) => {
  test('is sound and can be wound', () => {
    const result = parseDesign(JSON.parse(JSON.stringify(document)));
    if (!result.ok) throw new Error(result.faults.map(faultLine).join('\n'));
    expect(windingFaults(result.design).map(faultLine)).toEqual([]);
    expect(demandOf(result.design).demandA).toBeGreaterThan(0);
  });
});

test('ids and titles are unique', () => {
  expect(new Set(STARTING_POINTS.map((point) => point.id)).size).toBe(4);
  expect(new Set(STARTING_POINTS.map((point) => point.document.title)).size).toBe(4);
});

test('the demo asks for 0.78 A: playing while it charges; start-up is a peak of its own', () => {
  const result = parseDesign(DEMO_DESIGN);
  if (!result.ok) throw new Error('the demo has faults');
  const demand = demandOf(result.design);
  expect(demand.demandA).toBeCloseTo(0.78, 12);
  expect(demand.demandNames).toEqual(['playing', 'charging']);
  expect(demand.peaks).toEqual([{ name: 'start-up', currentA: 0.75, durationMs: 2 }]);
  expect(demand.idleA).toBe(0.33);
  expect(result.design.placement.gapMm).toBe(5.9);
});

test("the demo's readings are invented, say so, and obey the balance of power", () => {
  const result = parseDesign(DEMO_DESIGN);
  if (!result.ok) throw new Error('the demo has faults');
  const { readings, notes } = result.design;
  expect(notes).toMatch(/bench readings are invented too, never measured/);
  expect(readings.length).toBeGreaterThanOrEqual(10);
  for (const reading of readings) {
    expect((reading.outputV ?? 0) * (reading.outputA ?? 0)).toBeLessThan(reading.supplyV * (reading.supplyA ?? 0));
  }
  expect(new Set(readings.map((reading) => Math.round(reading.supplyV))).size).toBe(2);
  expect(readings.some((reading) => !reading.regulated)).toBe(true);
});
