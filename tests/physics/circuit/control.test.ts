import { describe, expect, test } from 'vitest';
import { randomSource } from '../../../src/numerics/random.ts';
import { rectifierDemand } from '../../../src/physics/circuit/board-model.ts';
import { brokenLimit, steer, windowNodes } from '../../../src/physics/circuit/control.ts';
import { firstHarmonicTier } from '../../../src/physics/circuit/first-harmonic-tier.ts';
import { periodicTier } from '../../../src/physics/circuit/periodic-tier.ts';
import { randomCase, typicalBoards, typicalLink } from './boards.ts';

const cold = { transmitterC: 25, receiverC: 25 };

test('window nodes run from the top down to the bottom', () => {
  const nodes = windowNodes(typicalBoards(5).drive, 9);
  expect(nodes[0]).toBe(215e3);
  expect(nodes[8]).toBeCloseTo(108e3, 6);
  expect(nodes).toEqual([...nodes].sort((a, b) => b - a));
  expect(windowNodes({ ...typicalBoards(5).drive, frequencyMax: 108e3 }, 9)).toEqual([108e3]);
});

describe('on target it is the first crossing from the top', () => {
  test('first harmonic, against a scan of 2000 frequencies', () => {
    const source = randomSource(31);
    let seen = 0;
    for (let i = 0; i < 120; i++) {
      const { link, boards, loadA } = randomCase(source);
      const tier = firstHarmonicTier(link, boards, cold);
      const steered = steer(tier, boards, loadA);
      const { frequency, level } = steered.delivery.setting;
      if (steered.outcome !== 'onTarget' || level < 1 || frequency === boards.drive.frequencyMax) continue;
      seen++;
      expect(
        Math.abs(steered.delivery.rectifierA / rectifierDemand(boards.pickup, loadA, steered.targetV) - 1),
      ).toBeLessThan(1e-7);
      for (const f of windowNodes(boards.drive, 2000)) {
        if (f < frequency * (1 + 1e-6)) break;
        const above = tier.deliver({ frequency: f, level: 1 }, steered.targetV);
        // A crossing narrower than the window's sampling may be passed over; none is wider than two nodes.
        expect(above.rectifierA).toBeLessThan(rectifierDemand(boards.pickup, loadA, steered.targetV) * (1 + 1e-6));
      }
    }
    expect(seen).toBeGreaterThan(10);
  });

  test('periodic, against a scan of 60 frequencies', () => {
    for (const [k, load] of [
      [0.3, 0.4],
      [0.45, 0.6],
      [0.6, 0.5],
    ]) {
      const boards = typicalBoards(5);
      const tier = periodicTier(typicalLink(k), boards, cold);
      const steered = steer(tier, boards, load);
      expect(steered.outcome).toBe('onTarget');
      for (const f of windowNodes(boards.drive, 60)) {
        if (f < steered.delivery.setting.frequency * (1 + 1e-4)) break;
        expect(tier.deliver({ frequency: f, level: 1 }, steered.targetV).rectifierA).toBeLessThan(load + 0.01 + 1e-4);
      }
    }
  });
});

test('least drive too strong: overfed, and the voltage is that of least drive', () => {
  const boards = typicalBoards(9);
  const steered = steer(firstHarmonicTier(typicalLink(0.6), boards, cold), boards, 0.3);
  expect(steered.outcome).toBe('overfed');
  expect(steered.delivery.rectifiedV).toBeGreaterThan(steered.targetV);
  expect(steered.delivery.setting).toEqual({ frequency: 215e3, level: 1 });
  // With a duty to cut, the same pose is held on target.
  const cut = typicalBoards(9, { drive: { dutyMin: 0.05 } });
  const held = steer(firstHarmonicTier(typicalLink(0.6), cut, cold), cut, 0.3);
  expect(held.outcome).toBe('onTarget');
  expect(held.delivery.setting.frequency).toBe(215e3);
  expect(held.delivery.setting.level).toBeLessThan(1);
});

test('out of reach: the largest voltage of the window within the limits', () => {
  const boards = typicalBoards(5);
  const tier = firstHarmonicTier(typicalLink(0.1), boards, cold);
  const steered = steer(tier, boards, 0.4);
  expect(steered.outcome).toBe('starved');
  const best = steered.delivery.rectifiedV;
  for (const f of windowNodes(boards.drive, 400)) {
    const at = tier.settle({ frequency: f, level: 1 }, () => 0.41, 4);
    if (at !== null && brokenLimit(boards.drive, at) === null) expect(at.rectifiedV).toBeLessThan(best * (1 + 1e-4));
  }
});

test('a tight coil current limit stops the walk at that current and is named', () => {
  const boards = typicalBoards(5, { drive: { coilCurrentLimit: 2 } });
  for (const tier of [
    firstHarmonicTier(typicalLink(0.2), boards, cold),
    periodicTier(typicalLink(0.2), boards, cold),
  ]) {
    const steered = steer(tier, boards, 0.4);
    expect(steered.limit).toBe('coilCurrent');
    expect(steered.delivery.transmitterA).toBeLessThanOrEqual(2 * (1 + 1e-9));
    expect(steered.delivery.transmitterA).toBeGreaterThan(2 * 0.99);
  }
});

test('a weak supply is named, and its current is kept', () => {
  const boards = typicalBoards(5, { drive: { supplyCurrentLimit: 0.5 } });
  const steered = steer(firstHarmonicTier(typicalLink(0.4), boards, cold), boards, 0.8);
  expect(steered.limit).toBe('supplyCurrent');
  expect(steered.delivery.supplyA).toBeLessThanOrEqual(0.5 * (1 + 1e-9));
});

test('a resistance that lets no more power through is named as sag, not as the current limit', () => {
  // 5 V behind 2 ohm give at most 3.1 W; 5 V x 0.8 A = 4 W is asked behind the link.
  const boards = typicalBoards(5, { drive: { supplyResistance: 2, supplyCurrentLimit: 20 } });
  for (const k of [0.15, 0.4]) {
    const steered = steer(firstHarmonicTier(typicalLink(k), boards, cold), boards, 0.8);
    expect(['starved', 'collapsed']).toContain(steered.outcome);
    expect(['supplySag', 'link']).toContain(steered.limit);
  }
  expect(brokenLimit(boards.drive, { ...tierPoint(boards), overloaded: true, supplyA: 1 })).toBe('supplySag');
  expect(brokenLimit(boards.drive, { ...tierPoint(boards), overloaded: true, supplyA: 30 })).toBe('supplyCurrent');
});

function tierPoint(boards: ReturnType<typeof typicalBoards>) {
  return firstHarmonicTier(typicalLink(0.4), boards, cold).deliver({ frequency: 150e3, level: 1 }, 5);
}
