import { expect, test } from 'vitest';
import { CORRECTION_THRESHOLD, correctionAt } from '../../../src/physics/circuit/correction.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import { wakingAt } from '../../../src/physics/circuit/wake.ts';
import { typicalBoards, typicalLink } from './boards.ts';

test('adding the difference to the fast value gives the exact one; the wake ratio likewise', () => {
  const link = typicalLink(0.2);
  const boards = typicalBoards(5);
  const options = { ignoreThermal: true };
  const correction = correctionAt(link, boards, options);
  const fast = maxOutput(link, boards, { ...options, tier: 'fast' });
  const exact = maxOutput(link, boards, { ...options, tier: 'exact' });
  expect(fast.current + correction.difference).toBeCloseTo(exact.current, 9);
  expect(correction.relative).toBeCloseTo(Math.abs(correction.difference) / exact.current, 9);
  const wake = wakingAt(link, boards, 'fast').rectifiedV * correction.wakeRatio;
  expect(wake).toBeCloseTo(wakingAt(link, boards, 'exact').rectifiedV, 6);
  // At this pose the first harmonic is off by more than maps may be: the sample is worth its time.
  expect(correction.relative).toBeGreaterThan(CORRECTION_THRESHOLD);
});
