import { expect, test } from 'vitest';
import { BatchLink } from '../../../src/physics/circuit/batch-link.ts';
import { firstHarmonicTier } from '../../../src/physics/circuit/first-harmonic-tier.ts';
import { typicalBoards, typicalLink } from './boards.ts';

const link = typicalLink(0.35);
const boards = typicalBoards(5);
const solver = new BatchLink(boards);
const warm = { transmitterC: 60, receiverC: 45 };
const tier = firstHarmonicTier(link, boards, warm);
const one = (value: number) => Float64Array.of(value);
solver.load({ l1: one(link.l1), l2: one(link.l2), m: one(-link.m), r1: link.r1, r2: link.r2 }, 0, 60, 45);

test('the exact edge load is the load at which the rectified voltage is just what the regulator needs', () => {
  solver.aim(125e3);
  const load = solver.exactEdgeLoad(0.5);
  const needed = solver.neededBase + solver.neededSlope * load;
  const delivery = tier.deliver({ frequency: 125e3, level: 1 }, needed);
  expect(delivery.rectifierA - solver.idleA).toBeCloseTo(load, 8);
  expect(solver.supplyCurrent(125e3)).toBeCloseTo(delivery.supplyA, 8);
});

test('the swept edge load is near it where it is largest, roughly elsewhere (closed form, the capacitors phase left out)', () => {
  solver.sweep(1);
  for (let j = 0; j < solver.nodes; j++) {
    solver.aim(solver.frequencyAt(j));
    const exact = solver.exactEdgeLoad(solver.edges[j]);
    if (exact > 0.1) expect(Math.abs(solver.edges[j] / exact - 1)).toBeLessThan(exact > 0.8 ? 0.1 : 0.3);
  }
});

test('the first node reached brackets the crossing', () => {
  const node = solver.firstReached(0.41, 5.3, false);
  expect(node).toBeGreaterThan(0);
  solver.aim(solver.frequencyAt(node));
  expect(solver.excess(0.4, 5.3)).toBeLessThanOrEqual(0);
  solver.aim(solver.frequencyAt(node - 1));
  expect(solver.excess(0.4, 5.3)).toBeGreaterThan(0);
  expect(solver.firstReached(5, 5.3, false)).toBe(-1);
});
