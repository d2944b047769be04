import { expect, test } from 'vitest';
import { bounded, limitBelow, warmTo } from '../../../src/physics/circuit/batch-heat.ts';
import { BatchLink } from '../../../src/physics/circuit/batch-link.ts';
import { R1 } from '../../../src/physics/circuit/first-harmonic-kernel.ts';
import { LINK, OVERVOLTAGE, SHUTDOWN } from '../../../src/physics/circuit/limit-codes.ts';
import { solveOperatingPoint } from '../../../src/physics/circuit/operating-point.ts';
import { typicalBoards, typicalLink } from './boards.ts';

function loaded(k: number, boards = typicalBoards(9)): BatchLink {
  const link = typicalLink(k);
  const solver = new BatchLink(boards);
  const one = (value: number) => Float64Array.of(value);
  solver.load({ l1: one(link.l1), l2: one(link.l2), m: one(link.m), r1: link.r1, r2: link.r2 }, 0, 25, 25);
  return solver;
}
const rules = { ignoreThermal: false, charging: false, fromA: 0 };

test('warms copper by what the load costs', () => {
  const solver = loaded(0.2);
  solver.aim(130e3);
  const cold = solver.setting[R1];
  warmTo(solver, 0.8, 130e3);
  solver.aim(130e3);
  expect(solver.setting[R1]).toBeGreaterThan(cold * 1.02);
});

test('ends where the receiver reaches its shut-down, as the single solver has it', () => {
  const boards = typicalBoards(9, { thermal: { receiverResistance: 60, touchMax: 200, shutdown: 55 } });
  const solver = loaded(0.3, boards);
  limitBelow(solver, 1.2, LINK, 150e3, rules);
  expect(bounded.limit).toBe(SHUTDOWN);
  const at = solveOperatingPoint(typicalLink(0.3), boards, bounded.current, { tier: 'fast', awake: true });
  expect(Math.abs(at.receiverC - 55)).toBeLessThan(1);
});

test('overvoltage at idle leaves nothing from idle, something from a load on; no heat, no bound', () => {
  const base = typicalBoards(9);
  const boards = typicalBoards(9, { pickup: { regulator: { ...base.pickup.regulator, overvoltage: 9 } } });
  const solver = loaded(0.5, boards);
  limitBelow(solver, 1, LINK, 170e3, { ...rules, ignoreThermal: true });
  expect([bounded.current, bounded.limit]).toEqual([0, OVERVOLTAGE]);
  limitBelow(solver, 1, LINK, 170e3, { ignoreThermal: true, charging: false, fromA: 0.5 });
  expect([bounded.current, bounded.limit]).toEqual([1, LINK]);
});
