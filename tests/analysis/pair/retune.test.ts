import { describe, expect, it } from 'vitest';
import { resonance, retuneLink, tunedCapacitance } from '../../../src/analysis/pair/retune.ts';
import { nearestParts, standardValues } from '../../../src/analysis/pair/standard-values.ts';
import { boardsOf } from '../../../src/design/to-si.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import type { LinkElectrical } from '../../../src/physics/circuit/types.ts';
import { airPair } from './air-pair.ts';

const LINK: LinkElectrical = {
  l1: 7.3e-6,
  l2: 15.3e-6,
  m: 4.2e-6,
  r1: { dc: 0.05, linear: 0, quadratic: 0, quartic: 0 },
  r2: { dc: 0.12, linear: 0, quadratic: 0, quartic: 0 },
};

describe('preferred values', () => {
  it('has twelve and twenty-four a decade, every other E24 value being of E12', () => {
    const e12 = standardValues('E12', 100, 999);
    const e24 = standardValues('E24', 100, 999);
    expect([e12.length, e24.length]).toEqual([12, 24]);
    expect(e24.filter((_, i) => i % 2 === 0)).toEqual(e12);
  });

  // IEC 60063 (from memory): terms near 10^(i/12) and 10^(i/24), rounded; the old values 27 to 47 and 82 depart by up to 5 %.
  it('follows the geometric series it rounds', () => {
    standardValues('E24', 100, 999).forEach((value, i) => {
      expect(Math.abs(value / (100 * 10 ** (i / 24)) - 1)).toBeLessThan(0.05);
    });
  });

  it('finds the nearest single and pairs that add up', () => {
    const [single, ...pairs] = nearestParts(183.8, 'E12', 3);
    expect(single?.values).toEqual([180]);
    for (const pair of pairs) {
      expect(pair.values).toHaveLength(2);
      expect(pair.total).toBeCloseTo(pair.values[0]! + pair.values[1]!, 9);
      expect(Math.abs(pair.deviation)).toBeLessThan(Math.abs(single!.deviation));
    }
  });

  it('no pair of the series is nearer than the first it gives', () => {
    for (const wanted of [34.5, 97.3, 122, 260, 705]) {
      const [, first] = nearestParts(wanted, 'E12', 1);
      const all = standardValues('E12', wanted / 200, wanted);
      let least = Number.POSITIVE_INFINITY;
      for (const a of all) for (const b of all) least = Math.min(least, Math.abs((a + b) / wanted - 1));
      expect(Math.abs(first!.deviation)).toBeCloseTo(least, 9);
    }
  });
});

describe('retuning', () => {
  it('resonates where it says (textbook: w^2 L C = 1)', () => {
    expect(resonance(10e-6, tunedCapacitance(10e-6, 140e3))).toBeCloseTo(140e3, 6);
    // 1 / (2 pi sqrt(25.33 uH x 100 nF)) is 100 kHz to four digits.
    expect(resonance(25.33e-6, 100e-9) / 100e3).toBeCloseTo(1, 4);
  });

  const design = airPair();
  design.transmitter.drive.seriesCapacitanceNf = 400;
  design.receiver.pickup.seriesCapacitanceNf = 60;
  // The regulator must not be what ends it, or every tuning gives the same.
  design.receiver.pickup.regulator.currentLimitA = 5;
  design.transmitter.drive.seriesCapacitanceTolerancePercent = 5;
  design.receiver.pickup.seriesCapacitanceTolerancePercent = 10;
  const answer = retuneLink(design, LINK);

  it('improves on a receiver capacitor that is far off, and both on one alone', () => {
    expect(answer.receiver.worstA).toBeGreaterThan(1.05 * answer.now.worstA);
    // Each factor e away from what is there must bring 2 %: both together may leave that much.
    expect(answer.both.worstA).toBeGreaterThan(0.97 * answer.receiver.worstA);
    for (const tuning of [answer.now, answer.receiver, answer.both]) {
      expect(tuning.worstA).toBeLessThanOrEqual(tuning.maxOutputA);
      expect(tuning.bestA).toBeGreaterThanOrEqual(tuning.maxOutputA);
    }
  });

  /** Both capacitors' corners, one circuit after the other: another solver of the first harmonic than the answer's batch. */
  const worstOf = (one: number, two: number): number => {
    const boards = boardsOf(design);
    const at = (a: number, b: number): number =>
      maxOutput(
        LINK,
        {
          ...boards,
          drive: { ...boards.drive, seriesCapacitance: a * 1e-9 },
          pickup: { ...boards.pickup, seriesCapacitance: b * 1e-9 },
        },
        { charging: true, tier: 'fast' },
      ).current;
    return Math.min(...[0.95, 1.05].flatMap((a) => [0.9, 1.1].map((b) => at(one * a, two * b))));
  };

  it('agrees with brute force over the receiver capacitor at the worst ends of both parts, within 4 %', () => {
    let most = 0;
    for (let nf = 40; nf <= 260; nf += 20) most = Math.max(most, worstOf(400, nf));
    // 4 %: it takes a nearer part for 2 % less to each factor e, and the scan goes 1.5 of them away.
    expect(answer.receiver.worstA).toBeGreaterThan(0.96 * most);
    expect(answer.receiver.receiverNf).toBeLessThan(260);
    // Between the steps there may be a little more.
    expect(answer.receiver.worstA).toBeLessThan(1.03 * most);
  });

  it('gives a current that the exact circuit has too, within 5 %', () => {
    const boards = boardsOf(design);
    const pickup = { ...boards.pickup, seriesCapacitance: answer.receiver.receiverNf * 1e-9 };
    const exact = maxOutput(LINK, { ...boards, pickup }, { charging: true }).current;
    // First harmonic against the exact circuit near the lower end of the window (README of the circuit).
    expect(Math.abs(answer.receiver.maxOutputA / exact - 1)).toBeLessThan(0.05);
  });

  it('gives parts with what they do', () => {
    expect(answer.receiverParts.length).toBeGreaterThanOrEqual(4);
    for (const { part, tuning } of answer.receiverParts) {
      expect(tuning.receiverNf).toBe(part.total);
      expect(tuning.transmitterNf).toBe(400);
    }
    expect(new Set(answer.receiverParts.map(({ series }) => series))).toEqual(new Set(['E12', 'E24']));
    expect(answer.receiverParts.some(({ part }) => part.values.length === 2)).toBe(true);
  });

  it('says what both parts’ tolerances do to the largest current: the corners solved one by one, within 1 %', () => {
    // 1 %: where heat ends it the batch stops 0.4 % short of the other solver (180 to 240 nF, by hand on 2026-11-28).
    for (const { tuning } of answer.receiverParts.slice(0, 3)) {
      expect(Math.abs(tuning.worstA / worstOf(tuning.transmitterNf, tuning.receiverNf) - 1)).toBeLessThan(0.01);
      expect(tuning.worstA).toBeLessThan(tuning.maxOutputA);
    }
  });
});
