import { expect, test } from 'vitest';
import { randomSource } from '../../../src/numerics/random.ts';
import { rectifierDemand } from '../../../src/physics/circuit/board-model.ts';
import { firstHarmonicTier } from '../../../src/physics/circuit/first-harmonic-tier.ts';
import { randomCase, typicalBoards, typicalLink } from './boards.ts';

const cold = { transmitterC: 25, receiverC: 25 };

test('power closes: bridge power = coils + rectifier + rectified power, supply = resistance + bridge + standing', () => {
  const source = randomSource(21);
  for (let i = 0; i < 200; i++) {
    const { link, boards } = randomCase(source);
    const tier = firstHarmonicTier(link, boards, cold);
    const d = tier.deliver({ frequency: boards.drive.frequencyMax, level: source.uniform() }, 3 + 5 * source.uniform());
    if (d.rectifierA === 0 || d.overloaded) continue;
    const out =
      d.transmitterA ** 2 * d.transmitterOhm +
      d.receiverA ** 2 * d.receiverOhm +
      d.rectifierLoss +
      d.rectifiedV * d.rectifierA;
    expect(Math.abs(out / d.linkW - 1)).toBeLessThan(1e-9);
    expect(Math.abs(d.suppliedV + boards.drive.supplyResistance * d.supplyA - boards.drive.supplyV)).toBeLessThan(1e-9);
  }
});

test('settle finds the voltage whose delivered current is the demand, for constant current and constant power', () => {
  const link = typicalLink(0.4);
  for (const kind of ['linear', 'switching'] as const) {
    const base = typicalBoards(5);
    const boards = typicalBoards(5, { pickup: { regulator: { ...base.pickup.regulator, kind } } });
    const tier = firstHarmonicTier(link, boards, cold);
    const setting = { frequency: 140e3, level: 1 };
    const demand = (volts: number) => rectifierDemand(boards.pickup, 0.5, volts);
    const settled = tier.settle(setting, demand, 5);
    expect(settled).not.toBeNull();
    const again = tier.deliver(setting, settled!.rectifiedV);
    expect(again.rectifierA).toBeCloseTo(demand(settled!.rectifiedV), 7);
  }
});

test('no settling where even a short circuit draws less than the load', () => {
  const tier = firstHarmonicTier(typicalLink(0.05), typicalBoards(5), cold);
  expect(tier.settle({ frequency: 215e3, level: 1 }, () => 3, 5)).toBeNull();
});

test('warm copper delivers less', () => {
  const setting = { frequency: 125e3, level: 1 };
  const at = (c: number) =>
    firstHarmonicTier(typicalLink(0.2), typicalBoards(5), { transmitterC: c, receiverC: c }).deliver(setting, 4)
      .rectifierA;
  expect(at(90)).toBeLessThan(at(25));
});
