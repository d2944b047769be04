import { expect, test } from 'vitest';
import { rectifierDemand } from '../../../src/physics/circuit/board-model.ts';
import { firstHarmonicTier } from '../../../src/physics/circuit/first-harmonic-tier.ts';
import { periodicTier } from '../../../src/physics/circuit/periodic-tier.ts';
import { typicalBoards, typicalLink } from './boards.ts';

const cold = { transmitterC: 25, receiverC: 25 };
const setting = { frequency: 150e3, level: 1 };

test('power closes to 1e-7 at a reported point, the supply to 1e-10', () => {
  for (const bridge of ['full', 'half'] as const) {
    const boards = typicalBoards(bridge === 'full' ? 5 : 11, {
      drive: { bridge, dutyMin: bridge === 'full' ? 1 : 0.15, control: bridge === 'full' ? 'frequency' : 'duty' },
    });
    for (const level of bridge === 'full' ? [1] : [1, 0.5]) {
      const d = periodicTier(typicalLink(0.4), boards, cold).deliver({ frequency: 140e3, level }, 4, true);
      expect(d.method).toBe('periodic');
      const out =
        d.transmitterA ** 2 * d.transmitterOhm +
        d.receiverA ** 2 * d.receiverOhm +
        d.ringingLoss +
        d.rectifierLoss +
        d.rectifiedV * d.rectifierA;
      expect(Math.abs(out / d.linkW - 1)).toBeLessThan(1e-7);
      expect(Math.abs(d.suppliedV + boards.drive.supplyResistance * d.supplyA - boards.drive.supplyV)).toBeLessThan(
        1e-10,
      );
    }
  }
});

test('voltage under half an ampere: within 10 % of the first harmonic in continuous conduction, beyond it at the bottom of the window at high coupling', () => {
  const boards = typicalBoards(5);
  const compare = (k: number, frequency: number) => {
    const [exact, fast] = [
      periodicTier(typicalLink(k), boards, cold),
      firstHarmonicTier(typicalLink(k), boards, cold),
    ].map((tier) => tier.settle({ frequency, level: 1 }, () => 0.5, 6)!.rectifiedV);
    return fast / exact - 1;
  };
  expect(Math.abs(compare(0.35, 135e3))).toBeLessThan(0.1);
  expect(Math.abs(compare(0.2, 120e3))).toBeLessThan(0.1);
  expect(Math.abs(compare(0.6, 112e3))).toBeGreaterThan(0.1);
});

test('settle meets a constant current and a constant power', () => {
  for (const kind of ['linear', 'switching'] as const) {
    const base = typicalBoards(5);
    const boards = typicalBoards(5, { pickup: { regulator: { ...base.pickup.regulator, kind } } });
    const tier = periodicTier(typicalLink(0.4), boards, cold);
    const demand = (volts: number) => rectifierDemand(boards.pickup, 0.4, volts);
    const settled = tier.settle(setting, demand, 5.5, true);
    expect(settled).not.toBeNull();
    expect(Math.abs(settled!.rectifierA / demand(settled!.rectifiedV) - 1)).toBeLessThan(1e-6);
  }
  const tier = periodicTier(typicalLink(0.05), typicalBoards(5), cold);
  expect(tier.settle({ frequency: 215e3, level: 1 }, () => 3, 5)).toBeNull();
});
