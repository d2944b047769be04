import { describe, expect, test } from 'vitest';
import { feedReport } from '../../src/analysis/feed/feed-report.ts';
import type { OperatingSpread } from '../../src/analysis/feed/operating-spread.ts';
import type { PoseAnswer } from '../../src/analysis/types.ts';
import { demandOf } from '../../src/design/demand.ts';
import type { Design } from '../../src/design/types.ts';
import { spansText } from '../../src/stations/answer-line.ts';
import { type FeedSources, feedAnswer, feedWhy, namesText } from '../../src/stations/feed-words.ts';
import { demoWith, linkOf, POINT } from '../analysis/feed/designs.ts';

function sources(design: Design, maxOutputA: number, peakA = maxOutputA): FeedSources {
  const demand = demandOf(design);
  const percent = (current: number) => 100 * (current / demand.demandA - 1);
  const link = linkOf(maxOutputA, peakA);
  const pose = {
    operatingPoint: { ...POINT, state: 'regulated', receiverC: 52.4, efficiency: 0.783 },
    margin: {
      maxOutputA,
      maxOutputBand: { value: maxOutputA, low: 0.9 * maxOutputA, high: 1.1 * maxOutputA },
      marginPercent: percent(maxOutputA),
      marginBandPercent: { value: 0, low: percent(0.9 * maxOutputA), high: percent(1.1 * maxOutputA) },
      limitedBy: 'link',
      peaks: link.peaks,
    },
  } as unknown as PoseAnswer;
  return { demand, pose, quick: null, report: feedReport(design, link), spread: null, ambientC: 25 };
}

const said = (from: FeedSources) =>
  spansText(feedAnswer(from))
    .replace(/\u00a0/g, ' ')
    .replace(/\u2060/g, '');

describe('the answer line', () => {
  test('carries', () => {
    expect(said(sources(demoWith(), 1.058))).toBe(
      'The link carries playing and charging, 0.78 A, with 36 % (22–49) in hand; the start-up peak of 0.75 A for 2 ms with 41 %; the receiver runs at 52 °C.',
    );
  });

  test('does not carry, and what it would give', () => {
    expect(said(sources(demoWith(), 0.6, 0.8))).toMatch(
      /^The link does not carry playing and charging, 0\.78 A: 0\.60 A at most \(0\.54–0\.66\); the start-up peak .* with 7 %\.$/,
    );
  });

  test('a peak it lacks needs a capacitor, called what it is', () => {
    expect(said(sources(demoWith(), 1, 0.7))).toContain('lacks 0.050 A: a capacitor of 400 µF carries it');
    expect(said(sources(demoWith(['demand.loads[3].durationMs', 500]), 1, 0.6))).toContain(
      'lacks 0.15 A: an absurd 310 mF would have to carry it',
    );
  });

  test('before the first answer, and where a converter collapses', () => {
    const from = sources(demoWith(), 1);
    expect(said({ ...from, pose: null })).toBe('Working out what the link carries …');
    const demand = { ...from.demand, demandA: Number.POSITIVE_INFINITY };
    expect(said({ ...from, demand })).toMatch(/^No link can carry this: a converter in the chain collapses/);
  });

  test('a margin without bound is put in words', () => {
    const little = sources(demoWith(), 1);
    const pose = { ...little.pose, margin: { ...little.pose?.margin, marginPercent: 999 } } as PoseAnswer;
    const asked = (demandA: number) => said({ ...little, pose, demand: { ...little.demand, demandA } });
    expect(asked(0)).toMatch(/, 0 A, with all of its 1\.00 A .*in hand/);
    expect(asked(0.02)).toMatch(/, with more than ten times that .*in hand/);
  });

  test('bands end at nothing, at all that is put in, and at the ambient temperature', () => {
    const wide = Object.fromEntries(Object.keys(POINT.losses).map((key) => [key, 9]));
    const all = { ...wide, supplyW: 9, efficiency: 1.1, receiverC: 90 } as unknown as OperatingSpread['less'];
    const from = { ...sources(demoWith(), 1), spread: { less: all, more: all } };
    const why = feedWhy(from).replace(/[\u00a0\u2060]/g, ' ');
    expect(why).toMatch(/^It takes 5\.02 W \(0\.00 – 14\.02\) from the supply, 78 % \(0 – 100\) of it arrives/);
    expect(said(from)).toContain('the receiver runs at 52 °C (25–142).');
  });

  test('the line beneath says how much arrives, what gives out and what is left out', () => {
    const why = feedWhy(sources(demoWith(), 1)).replace(/\u00a0/g, ' ');
    expect(why).toMatch(/^It takes 5\.02 W from the supply, 78 % of it arrives\. What gives out first is the link/);
    expect(why).toContain('Not in it: what the boards negotiate');
    expect(why).not.toContain('fall short');
    expect(feedWhy(sources(demoWith(), 0.8))).toContain('Within its tolerances it may fall short');
    expect(feedWhy({ ...sources(demoWith(), 1), pose: null })).toBe('');
  });
});

test('names in a row', () => {
  expect(['', namesText(['a']), namesText(['a', 'b']), namesText(['a', 'b', 'c']), namesText([])]).toEqual([
    '',
    'a',
    'a and b',
    'a, b and c',
    'nothing',
  ]);
});
