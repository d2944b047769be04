import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import type { PoseAnswer } from '../../src/analysis/types.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { STARTING_POINTS } from '../../src/design/starting-points.ts';
import { tell } from './capture.ts';

const folder = new URL('../../reference-cases/solve-examples/', import.meta.url);
const path = (name: string) => fileURLToPath(new URL(name, folder));
const read = (name: string) => JSON.parse(readFileSync(path(name), 'utf8'));

const INDUCTANCES = ['transmitterInductanceH', 'receiverInductanceH', 'mutualInductanceH', 'coupling'] as const;
const RESISTANCES = ['transmitterResistanceOhm', 'receiverResistanceOhm'] as const;
const POINT = [
  'frequencyHz',
  'duty',
  'supplyA',
  'outputV',
  'outputA',
  'rectifiedV',
  'efficiency',
  'transmitterCoilARms',
  'receiverCoilARms',
  'transmitterCapacitorVPeak',
  'receiverCapacitorVPeak',
  'wakeRectifiedV',
] as const;

function within(got: number, kept: number, relative: number, what: string): void {
  expect(Math.abs(got - kept), `${what}: ${got}, kept ${kept}`).toBeLessThanOrEqual(relative * Math.abs(kept));
}

// Our own output: shows that the answer has not moved, not that it is right. Tolerances: SOURCE.md beside the examples.
describe.each(['printed', 'demo'])('the worked example %s', (name) => {
  test('solves again to the kept answer', async () => {
    const told = await tell('solve', path(`${name}.design.json`), '--json');
    expect(told.err).toBe('');
    expect(told.code).toBe(0);
    const got = JSON.parse(told.out) as PoseAnswer;
    const kept = read(`${name}.solve.json`) as PoseAnswer;
    for (const key of INDUCTANCES) {
      const room = got.link.errors[key] + kept.link.errors[key] + 1e-12 * Math.abs(kept.link[key]);
      expect(Math.abs(got.link[key] - kept.link[key]), key).toBeLessThanOrEqual(room);
      // Winding and filaments do not change with the plates' grids.
      within(got.link.air[key], kept.link.air[key], 1e-3, `air ${key}`);
    }
    for (const key of RESISTANCES) within(got.link[key], kept.link[key], 0.05, key);
    expect(got.operatingPoint.state).toBe(kept.operatingPoint.state);
    expect(got.operatingPoint.wakes).toBe(kept.operatingPoint.wakes);
    for (const key of POINT) within(got.operatingPoint[key], kept.operatingPoint[key], 0.02, key);
    within(got.margin.maxOutputA, kept.margin.maxOutputA, 0.03, 'maxOutputA');
    within(got.margin.demandA, kept.margin.demandA, 1e-12, 'demandA');
    expect(got.margin.demandNames).toEqual(kept.margin.demandNames);
    expect(got.margin.limitedBy).toBe(kept.margin.limitedBy);
  }, 300_000);

  test('keeps the balance of power and the definition of margin', () => {
    const { operatingPoint: point, margin } = read(`${name}.solve.json`) as PoseAnswer;
    const design = read(`${name}.design.json`);
    const input = design.transmitter.drive.supplyV * point.supplyA;
    const lost = Object.values(point.losses).reduce((sum, loss) => sum + loss, 0);
    within(lost + point.outputV * point.outputA, input, 1e-6, 'input power');
    within(point.efficiency, (point.outputV * point.outputA) / input, 1e-6, 'efficiency');
    within(margin.marginPercent, 100 * (margin.maxOutputA / margin.demandA - 1), 1e-9, 'margin');
  });
});

test('the examples are the designs that the program ships', () => {
  expect(read('demo.design.json')).toEqual(DEMO_DESIGN);
  expect(read('printed.design.json')).toEqual(STARTING_POINTS.find((point) => point.id === 'printed')?.document);
});
