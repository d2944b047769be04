import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dividerChange, mendingResistor, readDivider, TRIMMER_TOLERANCE } from '../../../src/analysis/feed/divider.ts';
import { dividerOutputV } from '../../../src/design/divider-output.ts';
import type { FeedbackDocument, LegDocument } from '../../../src/design/types.ts';
import { chainCases } from './chain-cases.ts';

const leg = (resistorKohm: number, more: Partial<LegDocument> = {}): LegDocument => ({
  resistorKohm,
  seriesKohm: 0,
  parallelKohm: null,
  trimmerKohm: 0,
  trimmerTurn: 0.5,
  ...more,
});

const feedback = (top: LegDocument, bottom: LegDocument, more: Partial<FeedbackDocument> = {}): FeedbackDocument => ({
  referenceV: 0.6,
  referenceTolerancePercent: 2,
  resistorTolerancePercent: 1,
  top,
  bottom,
  ...more,
});

interface Inputs {
  readonly referenceV: number;
  readonly topKohm: number;
  readonly bottomKohm: number;
  readonly resistorTolerancePercent: number;
  readonly referenceTolerancePercent: number;
}
interface Expected {
  readonly outputV: number;
  readonly worstPercent: number;
  readonly rssPercent: number;
}

test.each(chainCases<Inputs, Expected>('divider'))('check value: $id', ({ inputs, expected, tolerance }) => {
  const { topKohm, bottomKohm, ...rest } = inputs;
  const reading = readDivider({ ...rest, top: leg(topKohm), bottom: leg(bottomKohm) });
  expect(Math.abs(reading.outputV - expected.outputV)).toBeLessThan(5e-5);
  expect(Math.abs(100 * reading.worst - expected.worstPercent)).toBeLessThanOrEqual(tolerance.abs);
  expect(Math.abs(100 * reading.rss - expected.rssPercent)).toBeLessThanOrEqual(tolerance.abs);
});

test('the worst case is the worst corner of all parts, to first order (seed 73)', () => {
  const size = fc.double({ min: 1, max: 500, noNaN: true });
  const small = 1e-4;
  fc.assert(
    fc.property(size, size, size, size, size, size, (a, b, c, d, e, f) => {
      const base = feedback(leg(a, { seriesKohm: b, parallelKohm: c }), leg(d, { seriesKohm: e, parallelKohm: f }), {
        resistorTolerancePercent: 100 * small,
        referenceTolerancePercent: 0,
      });
      const scaled = (from: LegDocument, signs: readonly number[]): LegDocument => ({
        ...from,
        resistorKohm: from.resistorKohm * (1 + signs[0] * small),
        seriesKohm: from.seriesKohm * (1 + signs[1] * small),
        parallelKohm: (from.parallelKohm ?? 0) * (1 + signs[2] * small),
      });
      let worst = 0;
      for (let bits = 0; bits < 64; bits++) {
        const sign = (n: number) => ((bits >> n) & 1 ? 1 : -1);
        const corner = {
          ...base,
          top: scaled(base.top, [sign(0), sign(1), sign(2)]),
          bottom: scaled(base.bottom, [sign(3), sign(4), sign(5)]),
        };
        worst = Math.max(worst, Math.abs(dividerOutputV(corner) / dividerOutputV(base) - 1));
      }
      const reading = readDivider(base);
      expect(Math.abs(reading.worst / worst - 1)).toBeLessThan(2e-3);
      expect(reading.rss).toBeLessThanOrEqual(reading.worst);
    }),
    { seed: 73, numRuns: 60 },
  );
});

test('a trimmer has a range, and its own wide tolerance', () => {
  const plain = readDivider(feedback(leg(110), leg(15)));
  expect(plain.lowV).toBe(plain.highV);
  const trimmed = readDivider(feedback(leg(100, { trimmerKohm: 20 }), leg(15)));
  expect(trimmed.lowV).toBeCloseTo(0.6 * (1 + 100 / 15), 12);
  expect(trimmed.highV).toBeCloseTo(0.6 * (1 + 120 / 15), 12);
  expect(trimmed.outputV).toBeCloseTo(5, 12);
  const share = 110 / 125;
  const expected = Math.hypot(0.02, (share * 0.01 * 100) / 110, (share * TRIMMER_TOLERANCE * 10) / 110, share * 0.01);
  expect(trimmed.rss).toBeCloseTo(expected, 12);
});

describe('a change is judged by what the loads want', () => {
  const before = feedback(leg(110), leg(15));

  test('a parallel resistor below raises the output: said plainly where it should go down', () => {
    const change = dividerChange(before, feedback(leg(110), leg(15, { parallelKohm: 100 })), 4.8);
    expect(change.toV).toBeGreaterThan(change.fromV);
    expect(change.wrongWay).toBe(true);
    expect(change.sentence).toBe(
      'That raised the output from 5.00 V to 5.66 V. The loads want 4.80 V: the wrong way. A parallel resistor always makes its leg smaller, and a smaller bottom leg raises the output. To lower it, make the top leg smaller or the bottom leg larger.',
    );
  });

  test('across the top it lowers it', () => {
    const change = dividerChange(before, feedback(leg(110, { parallelKohm: 2700 }), leg(15)), 4.8);
    expect(change.wrongWay).toBe(false);
    expect(change.sentence).toMatch(/^That lowered the output from 5\.00 V to 4\.83 V\.$/);
  });

  test('up, the wrong way round', () => {
    const change = dividerChange(before, feedback(leg(110, { parallelKohm: 2700 }), leg(15)), 5.2);
    expect(change.sentence).toContain('smaller top leg lowers the output. To raise it, make the top leg larger');
    expect(dividerChange(before, before, 5).sentence).toBe('');
    expect(dividerChange(before, feedback(leg(100), leg(15)), 6).sentence).not.toContain('parallel');
  });

  test('the resistor that mends it does (seed 74)', () => {
    const size = fc.double({ min: 1, max: 500, noNaN: true });
    fc.assert(
      fc.property(size, size, fc.double({ min: 0.7, max: 20, noNaN: true }), (top, bottom, wantedV) => {
        const given = feedback(leg(top), leg(bottom));
        const mend = mendingResistor(given, wantedV);
        if (mend === null) return;
        const mended = { ...given, [mend.leg]: { ...given[mend.leg], parallelKohm: mend.parallelKohm } };
        expect(mend.parallelKohm).toBeGreaterThan(0);
        expect(dividerOutputV(mended)).toBeCloseTo(wantedV, 6);
      }),
      { seed: 74, numRuns: 200 },
    );
    expect(mendingResistor(before, 5)).toBeNull();
    expect(mendingResistor(before, 0.5)).toBeNull();
  });
});
