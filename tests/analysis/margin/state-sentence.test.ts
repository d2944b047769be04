import { describe, expect, test } from 'vitest';
import { limitName, limitWords, stateSentence } from '../../../src/analysis/margin/state-sentence.ts';
import { LIMIT_CODES } from '../../../src/physics/circuit/limit-codes.ts';
import { solveOperatingPoint } from '../../../src/physics/circuit/operating-point.ts';
import type { LinkState } from '../../../src/physics/circuit/types.ts';
import { typicalBoards, typicalLink } from '../../physics/circuit/boards.ts';

type Change = Parameters<typeof typicalBoards>[1];

/** Each sentence is that of a point really solved, so that a state that no circuit reaches has no test. */
function said(
  supplyV: number,
  k: number,
  loadA: number,
  change: Change = {},
  awake = true,
): { state: LinkState; text: string } {
  const boards = typicalBoards(supplyV, change);
  const point = solveOperatingPoint(typicalLink(k), boards, loadA, { tier: 'fast', awake, charging: true });
  return { state: point.state, text: stateSentence(point, boards, loadA) };
}

const stop = { minimumRectifiedV: null, foreignObjectLossW: null, minimumLoadA: null };

describe('each state says what happens and what to change', () => {
  test.each<[LinkState, ReturnType<typeof said>, RegExp]>([
    ['regulated', said(5, 0.4, 0.5), /^Holds 0\.50 A at \d+ kHz with 5\.\d\d V rectified\.$/],
    ['starved', said(5, 0.1, 0.8), /(needs 5\.\d\d V for 0\.80 A|collapses under 0\.80 A).*Bring the coils closer/],
    ['overfed', said(9, 0.5, 0.1), /still gives .*Lower the supply voltage/],
    [
      'overvoltage',
      said(9, 0.5, 0, { pickup: { regulator: { ...typicalBoards(9).pickup.regulator, overvoltage: 9 } } }),
      /above the receiver's limit of 9\.00 V.*Lower the supply voltage/,
    ],
    [
      'currentLimited',
      said(9, 0.35, 1.5, { thermal: { cellChargeMax: 99 } }),
      /^The regulator limits at 1\.20 A; 1\.50 A is asked\. Lower the load/,
    ],
    ['hot', said(9, 0.35, 1, { thermal: { receiverResistance: 60, shutdown: 45 } }), /shuts down at 45 °C\. Lower/],
    ['hot', said(9, 0.35, 1, { thermal: { cellChargeMax: 27 } }), /charged up to 27 °C\. Charge with less/],
    ['asleep', said(5, 0.04, 0.5, {}, false), /needs 4\.00 V to wake\..*bring the coils closer/],
    [
      'stopped',
      said(5, 0.4, 0.5, { pickup: { stop: { ...stop, minimumRectifiedV: 8 } } }),
      /under its threshold of 8\.00 V/,
    ],
    [
      'stopped',
      said(5, 0.4, 0.5, { pickup: { stop: { ...stop, foreignObjectLossW: 0.05 } } }),
      /more than the 0\.05 W it takes for a foreign object/,
    ],
    [
      'stopped',
      said(5, 0.4, 0.01, { pickup: { stop: { ...stop, minimumLoadA: 0.05 } } }),
      /0\.01 A is under its least load of 0\.05 A/,
    ],
  ])('%s', (state, { state: reached, text }, words) => {
    expect(reached).toBe(state);
    expect(text).toMatch(words);
  });
});

test('what holds a link back is named: coil, port, cable', () => {
  expect(said(5, 0.15, 0.4, { drive: { coilCurrentLimit: 2 } }).text).toContain('coil is at its limit of 2.00 A');
  expect(said(5, 0.4, 0.9, { drive: { supplyCurrentLimit: 0.5 } }).text).toMatch(
    /the supply gives no more than 0\.50 A\. Take a supply that gives more current, or a higher voltage/,
  );
});

test('every limit has words', () => {
  for (const limit of LIMIT_CODES) {
    expect(limitWords(limit).length).toBeGreaterThan(10);
    expect(limitName(limit).length).toBeLessThan(16);
  }
});
