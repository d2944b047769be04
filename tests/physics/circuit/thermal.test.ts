import { expect, test } from 'vitest';
import { CASE_SHARE, temperatures } from '../../../src/physics/circuit/thermal.ts';
import { typicalBoards } from './boards.ts';

const { thermal } = typicalBoards(5);

test('heat in = heat out at both nodes', () => {
  const t = temperatures(thermal, 1.7, 0.9);
  const direct = (t.receiverC - thermal.ambient) / thermal.receiverResistance;
  const through = (t.receiverC - t.cellC) / thermal.receiverToCell;
  expect(direct + through).toBeCloseTo(1.7, 12);
  expect((t.cellC - thermal.ambient) / thermal.cellToAmbient).toBeCloseTo(through, 12);
  expect(t.transmitterC).toBeCloseTo(25 + 18 * 0.9, 12);
  expect(t.caseC - thermal.ambient).toBeCloseTo(CASE_SHARE * (t.receiverC - thermal.ambient), 12);
});

test('no loss, no rise; a cell cut off leaves the direct path', () => {
  const cold = temperatures(thermal, 0, 0);
  expect([cold.receiverC, cold.cellC, cold.caseC, cold.transmitterC]).toEqual([25, 25, 25, 25]);
  const apart = temperatures({ ...thermal, receiverToCell: 1e12 }, 1, 0);
  expect(apart.receiverC).toBeCloseTo(55, 6);
  expect(apart.cellC).toBeCloseTo(25, 6);
});
