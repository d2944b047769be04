import { expect, test } from 'vitest';
import { batchWake } from '../../../src/physics/circuit/batch-wake.ts';
import { wakingAt } from '../../../src/physics/circuit/wake.ts';
import { typicalBoards, typicalLink } from './boards.ts';

test('agrees with the single solver, zero where the rectifier is not reached', () => {
  const links = [0, 0.001, 0.05, 0.15, 0.3, 0.6].map((k) => typicalLink(k));
  const boards = typicalBoards(5);
  const out = batchWake(
    {
      l1: Float64Array.from(links, (link) => link.l1),
      l2: Float64Array.from(links, (link) => link.l2),
      m: Float64Array.from(links, (link) => link.m),
      r1: links[0].r1,
      r2: links[0].r2,
    },
    boards,
    new Float64Array(links.length),
  );
  for (let i = 2; i < links.length; i++) {
    expect(Math.abs(out[i] - wakingAt(links[i], boards, 'fast').rectifiedV)).toBeLessThan(1e-6);
  }
  expect([out[0], out[1]]).toEqual([0, 0]);
});
