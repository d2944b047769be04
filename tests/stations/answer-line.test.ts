import { describe, expect, test } from 'vitest';
import type { LineSweep, OffsetMap, PoseAnswer } from '../../src/analysis/types.ts';
import { demandOf } from '../../src/design/demand.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import type { Design } from '../../src/design/types.ts';
import {
  type AnswerSpan,
  gapReachMm,
  hereText,
  pairAnswer,
  pairWhy,
  placeAnswer,
  placeWhy,
  spansText,
} from '../../src/stations/answer-line.ts';
import { createFakeEngine } from '../support/fake-engine.ts';

const parsed = parseDesign(DEMO_DESIGN);
if (!parsed.ok) throw new Error('the demo must resolve');
const design: Design = parsed.design;
const demand = demandOf(design);
const engine = createFakeEngine();

async function answers(): Promise<{ map: OffsetMap; pose: PoseAnswer; gapCentred: LineSweep }> {
  const map = await engine.map({ design, points: 33, spanMm: 30 });
  const pose = await engine.solve(design);
  const gap = await engine.sweep({ design, axis: 'gap', from: 1, to: 20, points: 39 });
  if (!map.ok || !pose.ok || !gap.ok) throw new Error('fake');
  return { map: map.value, pose: pose.value, gapCentred: gap.value };
}

/** Plain characters, so that the expectation can be read. */
function text(spans: readonly AnswerSpan[]): string {
  return spansText(spans)
    .replace(/\u00a0/g, ' ')
    .replace(/\u2060/g, '');
}
const bad = (spans: readonly AnswerSpan[]): string[] => spans.filter((s) => s.tone === 'bad').map((s) => text([s]));

const base = await answers();
const place = (map: Partial<OffsetMap>, pose: PoseAnswer | null = base.pose): AnswerSpan[] =>
  placeAnswer({ design, demand, map: { ...base.map, ...map }, pose, quick: null, gapCentred: null });

describe('Place', () => {
  test('before the first answer', () => {
    const spans = placeAnswer({ design, demand, map: null, pose: null, quick: null, gapCentred: null });
    expect(text(spans)).toBe('Working out how far off centre it may sit …');
    expect(placeWhy({ design, demand, map: null, pose: null, quick: null, gapCentred: null })).toBe('');
  });

  test('before the map, what is known of the place it lies in', () => {
    const quick = {
      coupling: 0.5,
      mutualInductanceH: 5e-6,
      maxOutputA: 1.02,
      marginPercent: 30.8,
      from: 'model' as const,
    };
    expect(text(placeAnswer({ design, demand, map: null, pose: null, quick, gapCentred: null }))).toBe(
      'Holds 0.78 A centred, 31 % in hand. How far off centre …',
    );
    const little = { ...quick, maxOutputA: 0.5, marginPercent: -36 };
    expect(text(placeAnswer({ design, demand, map: null, pose: null, quick: little, gapCentred: null }))).toBe(
      'Does not hold 0.78 A centred: 0.50 A at most. How far off centre …',
    );
  });

  test('the usual case: reach with its band, and how far apart', () => {
    const spans = placeAnswer({
      design,
      demand,
      map: {
        ...base.map,
        reachMm: { value: 7.12, low: 6.41, high: 7.78 },
        peakReachMm: [],
        wakeReachMm: 9,
        holdReachMm: 9,
      },
      pose: base.pose,
      quick: null,
      gapCentred: {
        ...base.gapCentred,
        at: Float64Array.of(5, 6, 10),
        marginPercent: Float64Array.of(60, 40, 0),
        marginLowPercent: Float64Array.of(50, 30, -10),
        marginHighPercent: Float64Array.of(70, 50, 10),
      },
    });
    expect(text(spans)).toBe(
      'Holds 0.78 A with 20 % in hand up to 7.1 mm (6.4–7.8) off centre, or centred up to 8.0 mm (7.0–9.0) apart.',
    );
    expect(bad(spans)).toEqual([]);
  });

  test('how far apart is open above where its upper end does not fall within the line', () => {
    const sweep = (margin: number[], low: number[], high: number[]): LineSweep => ({
      ...base.gapCentred,
      at: Float64Array.of(5, 6, 10),
      marginPercent: Float64Array.from(margin),
      marginLowPercent: Float64Array.from(low),
      marginHighPercent: Float64Array.from(high),
    });
    const map = {
      ...base.map,
      reachMm: { value: 7, low: 7, high: 7 },
      peakReachMm: [],
      wakeReachMm: 9,
      holdReachMm: 9,
    };
    const said = (gapCentred: LineSweep): string =>
      text(placeAnswer({ design, demand, map, pose: base.pose, quick: null, gapCentred }));
    expect(said(sweep([60, 40, 0], [50, 30, -10], [70, 60, 30]))).toContain('up to 8.0 mm (7.0 or more) apart');
    expect(said(sweep([60, 40, 30], [50, 30, -10], [70, 60, 50]))).toContain(
      'up to more than 10.0 mm (7.0 or more) apart',
    );
    expect(said(sweep([60, 40, 30], [50, 30, 25], [70, 60, 50]))).toContain('up to more than 10.0 mm apart');
    expect(said(sweep([60, 40, 0], [10, 5, -10], [70, 50, 10]))).toContain('up to 8.0 mm (0.0–9.0) apart');
  });

  test('a peak that ends sooner is bad news; one that reaches farther is not mentioned', () => {
    const reach = { reachMm: { value: 7, low: 6.5, high: 7.5 }, wakeReachMm: 9, holdReachMm: 9 };
    const sooner = place({ ...reach, peakReachMm: [{ name: 'start-up', reachMm: 5.2 }] });
    expect(text(sooner)).toContain('Start-up needs 0.75 A: only 5.2 mm.');
    expect(bad(sooner)).toEqual(['only 5.2 mm']);
    expect(text(place({ ...reach, peakReachMm: [{ name: 'start-up', reachMm: 8 }] }))).not.toContain('tart-up');
    expect(bad(place({ ...reach, peakReachMm: [{ name: 'start-up', reachMm: 0 }] }))).toEqual(['not even centred']);
  });

  test('waking can be the narrower limit', () => {
    const spans = place({
      reachMm: { value: 7, low: 6.5, high: 7.5 },
      peakReachMm: [],
      wakeReachMm: 4,
      holdReachMm: 9,
    });
    expect(text(spans)).toContain('It wakes only within 4.0 mm.');
  });

  test('a hole at the centre gives the inner limit', () => {
    const spans = place({ reachMm: { value: 0, low: 0, high: 0 }, innerLimitMm: 2.4, peakReachMm: [] });
    expect(text(spans)).toMatch(/^Safe only from 2\.4 mm off centre outwards at a 5\.9 mm gap/);
  });

  test('too little in hand, held centred', () => {
    const marginPercent = base.map.marginPercent.map(() => 12);
    const spans = place({ reachMm: { value: 0, low: 0, high: 0 }, marginPercent, peakReachMm: [] });
    expect(text(spans)).toBe('Holds 0.78 A centred at 5.9 mm, but with only 12 % in hand of the 20 % wanted.');
  });

  test('not held at all', () => {
    const marginPercent = base.map.marginPercent.map(() => -30);
    const maxOutputA = base.map.maxOutputA.map(() => 0.546);
    const spans = place({ reachMm: { value: 0, low: 0, high: 0 }, marginPercent, maxOutputA, peakReachMm: [] }, null);
    expect(text(spans)).toBe('Does not hold 0.78 A, not even centred: 0.55 A at most at a 5.9 mm gap.');
    expect(bad(spans)).toEqual(['Does not hold 0.78 A']);
  });

  test('where it lies centred, what it gives at most is the full answer, with its band', () => {
    const marginPercent = base.map.marginPercent.map(() => -30);
    const maxOutputA = base.map.maxOutputA.map(() => 0.546);
    const margin = { ...base.pose.margin, maxOutputA: 0.56, maxOutputBand: { value: 0.56, low: 0.5, high: 0.6 } };
    const map = { reachMm: { value: 0, low: 0, high: 0 }, marginPercent, maxOutputA, peakReachMm: [] };
    expect(text(place(map, { ...base.pose, margin }))).toBe(
      'Does not hold 0.78 A, not even centred: 0.56 A at most (0.50–0.60) at a 5.9 mm gap.',
    );
  });

  test('held but not awake', () => {
    const marginPercent = base.map.marginPercent.map(() => 50);
    const spans = place({ reachMm: { value: 0, low: 0, high: 0 }, marginPercent, wakeReachMm: 0, peakReachMm: [] });
    expect(bad(spans)).toEqual(['does not wake']);
  });

  test('says when the power collapses where the receiver lies', () => {
    const off = { ...design, placement: { ...design.placement, offsetXMm: 20 } };
    const pose = { ...base.pose, margin: { ...base.pose.margin, marginPercent: -40 } };
    const spans = placeAnswer({ design: off, demand, map: base.map, pose, quick: null, gapCentred: null });
    expect(text(spans)).toContain('Where it lies now, 20.0 mm off, the power collapses.');
  });

  test('why names the direction and what gives out', () => {
    const why = placeWhy({
      design,
      demand,
      map: { ...base.map, tightestDeg: 91 },
      pose: base.pose,
      quick: null,
      gapCentred: null,
    });
    expect(why).toMatch(/^Tightest towards \+y\. What gives out first is the link/);
    const aslant = { ...base.map, tightestDeg: -44 };
    expect(placeWhy({ design, demand, map: aslant, pose: base.pose, quick: null, gapCentred: null })).toMatch(
      /^Tightest between −y and \+x\./,
    );
  });
});

describe('how far apart it holds', () => {
  const sweep = (at: number[], margin: number[]): LineSweep => ({
    ...base.gapCentred,
    at: Float64Array.from(at),
    marginPercent: Float64Array.from(margin),
  });
  test('is where the margin falls through the level, between the points', () => {
    expect(gapReachMm(sweep([1, 2, 3], [30, 10, -10]))).toBeCloseTo(2.5, 9);
    expect(gapReachMm(sweep([1, 2, 3], [30, 10, -10]), 20)).toBeCloseTo(1.5, 9);
  });
  test('is nothing where it never holds, and open where it does not end', () => {
    expect(gapReachMm(sweep([1, 2], [-5, -9]))).toBeNull();
    expect(gapReachMm(sweep([1, 2], [50, 40]))).toBe(Number.POSITIVE_INFINITY);
  });
  test('skips gaps that are too near to work', () => {
    expect(gapReachMm(sweep([1, 2, 3, 4], [-5, 20, 10, -10]))).toBeCloseTo(3.5, 9);
  });
});

describe('Pair', () => {
  test('says k with its band, the limit and what can be drawn', () => {
    const pose = {
      ...base.pose,
      link: { ...base.pose.link, coupling: 0.528, couplingBand: { value: 0.528, low: 0.52, high: 0.535 } },
      margin: {
        ...base.pose.margin,
        maxOutputA: 0.97,
        maxOutputBand: { value: 0.97, low: 0.71, high: 1.13 },
        marginPercent: 24.4,
      },
    };
    expect(text(pairAnswer({ demand, pose, quick: null }))).toBe(
      'Couples at k 0.528 (0.520–0.535): at best 94 % gets across, and 0.97 A (0.71–1.13) can be drawn here, 24 % more than the 0.78 A asked.',
    );
    expect(pairWhy({ demand, pose, quick: null })).toContain('Without ferrite and metal');
  });
  test('a current that is sure to all its digits has no band; one that falls short has', () => {
    const margin = { ...base.pose.margin, maxOutputA: 0.5, marginPercent: -36 };
    const said = (low: number, high: number): string => {
      const pose = { ...base.pose, margin: { ...margin, maxOutputBand: { value: 0.5, low, high } } };
      return text(pairAnswer({ demand, pose, quick: null }));
    };
    expect(said(0.4999, 0.5001)).toContain('and only 0.50 A can be drawn');
    expect(said(0.4, 0.56)).toContain('and only 0.50 A (0.40–0.56) can be drawn here, 36 % short');
    const lacking = { ...base.pose, margin: { ...margin, limitedBy: 'overvoltage' as const } };
    expect(pairWhy({ demand, pose: lacking, quick: null })).toMatch(/What gives out first is .*overvoltage/);
    expect(pairWhy({ demand, pose: base.pose, quick: null })).not.toContain('gives out');
  });
  test('a margin without bound is put in words', () => {
    const pose = { ...base.pose, margin: { ...base.pose.margin, maxOutputA: 1.06, marginPercent: 999 } };
    const said = (demandA: number): string => text(pairAnswer({ demand: { ...demand, demandA }, pose, quick: null }));
    expect(said(0)).toMatch(/ can be drawn here; nothing is asked of it\.$/);
    expect(said(0.02)).toMatch(/ can be drawn here, more than ten times the 0\.020 A asked\.$/);
    expect(hereText(pose, null).replace(/\u00a0/g, ' ')).toBe('1.06 A');
    expect(text(place({ demandA: 0, reachMm: { value: 7, low: 7, high: 7 } }))).toMatch(/^Holds 0 A up to 7\.0 mm off/);
  });
  test('beyond the coil, where M turns its sign, k has a true minus, and none before nought', () => {
    const link = {
      ...base.pose.link,
      coupling: -0.0132,
      couplingBand: { value: -0.0132, low: -0.0141, high: -0.0003 },
    };
    expect(text(pairAnswer({ demand, pose: { ...base.pose, link }, quick: null }))).toMatch(
      /^Couples at k −0\.013 \(−0\.014–0\.000\)/,
    );
  });
  test('while dragging it says what is quick to know', () => {
    const quick = {
      coupling: 0.3,
      mutualInductanceH: 3e-6,
      maxOutputA: 0.4,
      marginPercent: -48,
      from: 'model' as const,
    };
    const spans = pairAnswer({ demand, pose: base.pose, quick });
    expect(text(spans)).toBe('Couples at k 0.300, and only 0.40 A can be drawn here, 48 % short of the 0.78 A asked.');
  });
});

test('beside the ring stand margin and current, quick ones while dragging', () => {
  const quick = {
    coupling: 0.3,
    mutualInductanceH: 3e-6,
    maxOutputA: 0.4,
    marginPercent: -48.2,
    from: 'model' as const,
  };
  expect(hereText(null, quick).replace(/\u00a0/g, ' ')).toBe('−48 % · 0.40 A');
  expect(hereText(null, null)).toBe('');
});

test('several operating points are pointed out where the pose is judged', () => {
  const { pose, map, gapCentred } = base;
  const several = { ...pose, operatingPoint: { ...pose.operatingPoint, severalPoints: true } };
  const why = (of: PoseAnswer): string => placeWhy({ design, demand, map, pose: of, quick: null, gapCentred });
  expect(why(several)).toContain('More than one operating point fits here');
  expect(why(pose)).not.toContain('More than one');
});
