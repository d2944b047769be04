import { describe, expect, test } from 'vitest';
import { brokenLimit, windowNodes } from '../../../src/physics/circuit/control.ts';
import { walk } from '../../../src/physics/circuit/edge-walk.ts';
import { firstHarmonicTier } from '../../../src/physics/circuit/first-harmonic-tier.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import { solveOperatingPoint } from '../../../src/physics/circuit/operating-point.ts';
import { typicalBoards, typicalLink } from './boards.ts';

const carried = ['regulated', 'overfed'];

test('without limits the reach is the largest current into the needed voltage of a scan over the window', () => {
  const boards = typicalBoards(5, {
    pickup: { regulator: { ...typicalBoards(5).pickup.regulator, dropoutResistance: 0 } },
  });
  const tier = firstHarmonicTier(typicalLink(0.4), boards, { transmitterC: 40, receiverC: 40 });
  const { outputV, dropoutV, idleCurrent } = boards.pickup.regulator;
  const scanned = windowNodes(boards.drive, 3000).map((frequency) =>
    tier.deliver({ frequency, level: 1 }, outputV + dropoutV),
  );
  const largest = Math.max(...scanned.map(({ rectifierA }) => rectifierA)) - idleCurrent;
  const found = walk(tier, boards, []);
  expect(found.limit).toBe('link');
  expect(Math.abs(found.reach / largest - 1)).toBeLessThan(1e-5);
  expect(scanned.every((delivery) => brokenLimit(boards.drive, delivery) === null)).toBe(true);
});

describe('full drive at the top of the window breaks a limit already', () => {
  // A strong link on a supply of little current: the loads that less drive, or a higher rectified voltage, carries are not lost.
  test.each([
    ['fast', 0.1],
    ['fast', 1],
    ['exact', 0.1],
    ['exact', 1],
  ] as const)('%s, least duty %d: held just below, the supply at its limit just above', (tier, dutyMin) => {
    const boards = typicalBoards(12, {
      drive: { supplyCurrentLimit: 0.45, coilCurrentLimit: 20, frequencyMin: 120e3, frequencyMax: 140e3, dutyMin },
    });
    const most = maxOutput(typicalLink(0.35), boards, { tier, ignoreThermal: true });
    expect(most.limitedBy).toBe('supplyCurrent');
    expect(most.frequency).toBe(boards.drive.frequencyMax);
    expect(most.current).toBeGreaterThan(0.1);
    const at = (share: number) =>
      solveOperatingPoint(typicalLink(0.35), boards, share * most.current, { tier, awake: true });
    const below = at(0.98);
    expect([...carried, 'hot']).toContain(below.state);
    expect(below.supplyA).toBeLessThanOrEqual(0.45 * (1 + 1e-6));
    expect(at(1.03).limitedBy).toBe('supplyCurrent');
  });
  test('a load that the regulator passes long before is not refused for an edge nobody asks for', () => {
    const boards = typicalBoards(12, {
      drive: { supplyCurrentLimit: 1.5, frequencyMin: 120e3, frequencyMax: 140e3, dutyMin: 0.1 },
    });
    const most = maxOutput(typicalLink(0.45), boards, { tier: 'fast', ignoreThermal: true });
    expect([most.limitedBy, most.current]).toEqual(['regulatorCurrent', 1.2]);
  });
});
