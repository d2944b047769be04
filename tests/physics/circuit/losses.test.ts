import { expect, test } from 'vitest';
import { firstHarmonicTier } from '../../../src/physics/circuit/first-harmonic-tier.ts';
import { lossesOf, receiverLoss, totalLoss, transmitterLoss } from '../../../src/physics/circuit/losses.ts';
import { typicalBoards, typicalLink } from './boards.ts';

test('every watt of the supply is in one loss or in the output; sides add up', () => {
  const boards = typicalBoards(5);
  const tier = firstHarmonicTier(typicalLink(0.4), boards, { transmitterC: 40, receiverC: 45 });
  const delivery = tier.deliver({ frequency: 150e3, level: 1 }, 5.1);
  const outputW = 5 * (delivery.rectifierA - 0.01);
  const losses = lossesOf(boards.drive, delivery, outputW);
  const supplyW = boards.drive.supplyV * delivery.supplyA;
  expect(Math.abs((totalLoss(losses) + outputW) / supplyW - 1)).toBeLessThan(1e-12);
  expect(losses.supply + transmitterLoss(losses) + receiverLoss(losses)).toBeCloseTo(totalLoss(losses), 12);
  for (const value of Object.values(losses)) expect(value).toBeGreaterThan(0);
  // Two switches of a full bridge conduct.
  const conduction = 2 * boards.drive.switchResistance * delivery.transmitterA ** 2;
  expect(losses.bridge - delivery.deadTimeW).toBeCloseTo(conduction, 12);
});
