import { expect, test } from 'vitest';
import { BatchLink } from '../../../src/physics/circuit/batch-link.ts';
import { exactPeak, FREQUENCY, limitAtTop, limitBetween, refined } from '../../../src/physics/circuit/batch-refine.ts';
import { TRANSMITTER_PEAK } from '../../../src/physics/circuit/first-harmonic-kernel.ts';
import { typicalBoards, typicalLink } from './boards.ts';

function loaded(k: number, boards = typicalBoards(5)): BatchLink {
  const link = typicalLink(k);
  const solver = new BatchLink(boards);
  const one = (value: number) => Float64Array.of(value);
  solver.load({ l1: one(link.l1), l2: one(link.l2), m: one(link.m), r1: link.r1, r2: link.r2 }, 0, 40, 40);
  return solver;
}

test('the refined peak is the largest of a fine scan around its node', () => {
  for (const k of [0.15, 0.45, 0.6]) {
    const solver = loaded(k);
    solver.sweep(1);
    const best = solver.edges.indexOf(Math.max(...solver.edges));
    exactPeak(solver, best, solver.edges[best]);
    const load = refined[0];
    const top = solver.frequencyAt(Math.max(0, best - 2));
    const bottom = solver.frequencyAt(Math.min(solver.nodes - 1, best + 2));
    let largest = 0;
    for (let i = 0; i <= 400; i++) {
      solver.aim(top + ((bottom - top) * i) / 400);
      largest = Math.max(largest, solver.exactEdgeLoad(load));
    }
    expect(load).toBeGreaterThan(largest * (1 - 2e-3));
    expect(load).toBeLessThan(largest * (1 + 1e-6));
  }
});

test('between a good and a broken frequency it stops at the limit', () => {
  const boards = typicalBoards(5, { drive: { coilCurrentLimit: 4 } });
  const solver = loaded(0.2, boards);
  const f = limitBetween(solver, FREQUENCY, 180e3, 108e3, 0.5);
  solver.aim(f);
  solver.exactEdgeLoad(refined[0]);
  const coil = solver.result[TRANSMITTER_PEAK] / Math.SQRT2;
  expect(coil).toBeLessThanOrEqual(4 * (1 + 1e-9));
  expect(coil).toBeGreaterThan(4 * 0.99);
});

test('where full drive at the top of the window breaks a limit it is met with less drive, and without less drive at a higher voltage', () => {
  for (const dutyMin of [0.1, 1]) {
    const boards = typicalBoards(12, {
      drive: { supplyCurrentLimit: 0.45, frequencyMin: 120e3, frequencyMax: 140e3, dutyMin },
    });
    const solver = loaded(0.35, boards);
    const { frequencyMax } = boards.drive;
    solver.aim(frequencyMax);
    const full = solver.exactEdgeLoad(0.5);
    expect(solver.overLimit(frequencyMax)).toBeGreaterThan(0);
    limitAtTop(solver, full);
    expect(refined[0]).toBeGreaterThan(0.1);
    expect(refined[0]).toBeLessThan(full);
  }
});
