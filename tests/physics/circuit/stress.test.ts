import { expect, test } from 'vitest';
import { periodicTier } from '../../../src/physics/circuit/periodic-tier.ts';
import { CAUTION_VOLTAGE, stressOf } from '../../../src/physics/circuit/stress.ts';
import { typicalBoards, typicalLink } from './boards.ts';

const cold = { transmitterC: 25, receiverC: 25 };

test('coil voltages bound L times the fundamental current slope and stay within a few per cent of it near resonance', () => {
  const boards = typicalBoards(5);
  const link = typicalLink(0.15);
  const f = 110e3;
  const delivery = periodicTier(link, boards, cold).deliver({ frequency: f, level: 1 }, 3, true);
  const stress = stressOf(boards.drive, 0.22, delivery);
  // Uncoupled share of the coil's voltage at the peak current's slope.
  const own = 2 * Math.PI * f * link.l1 * delivery.transmitterPeakA;
  expect(stress.transmitterCoilPeakV).toBeGreaterThan(0.85 * own);
  expect(stress.transmitterCoilPeakV).toBeLessThan(1.5 * own);
  expect(stress.transmitterCapacitorPeakV).toBe(delivery.transmitterCapacitorPeakV);
});

test('the caution comes with resonant voltages above fifty volts and not below', () => {
  const quiet = typicalBoards(5);
  const calm = stressOf(
    quiet.drive,
    0.22,
    periodicTier(typicalLink(0.5), quiet, cold).deliver({ frequency: 170e3, level: 1 }, 5.3),
  );
  expect(calm.highVoltage).toBe(false);
  const loud = typicalBoards(19, { drive: { coilCurrentLimit: 30 } });
  const wild = stressOf(
    loud.drive,
    0.22,
    periodicTier(typicalLink(0.1), loud, cold).deliver({ frequency: 110e3, level: 1 }, 5.3),
  );
  expect(Math.max(wild.transmitterCapacitorPeakV, wild.transmitterCoilPeakV)).toBeGreaterThan(CAUTION_VOLTAGE);
  expect(wild.highVoltage).toBe(true);
});
