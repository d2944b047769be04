import { describe, expect, test } from 'vitest';
import { fitAnswer, fitRests, fixesSentence } from '../../../src/analysis/prove/answer-words.ts';
import type { Consequence } from '../../../src/analysis/prove/consequence.ts';
import type { FitReport, FittedValue } from '../../../src/analysis/prove/fit-report.ts';

const NBSP = /\u00a0/g;
const END = 22;

function consequence(before: readonly [number, number], after: readonly [number, number]): Consequence {
  const band = ([low, high]: readonly [number, number]) => ({ value: (low + high) / 2, low, high });
  return {
    demandA: 0.78,
    wantedMarginPercent: 20,
    reachMm: { before: band(before), after: band(after) },
    reachEndMm: END,
    recessPlayMm: { before: before[0], after: after[0] },
    supplies: [],
  };
}

function said(before: readonly [number, number], after: readonly [number, number], explains = true): string {
  const { agreement, reach } = fitAnswer({ explains, agreement: 3.24, consequence: consequence(before, after) });
  return `${agreement}${reach}`.replace(NBSP, ' ');
}

describe('the answer of a fit', () => {
  test.each([
    ['narrows', [0, 7.5], [2.5, 5.3], ', and the reach narrows from 0–7.5 mm to 2.5–5.3 mm.'],
    ['widens', [3, 5], [2, 9], ', but the reach widens from 3–5 mm to 2–9 mm.'],
    ['moves', [0, 4], [3, 7], '; the reach moves from 0–4 mm to 3–7 mm, no better known than before.'],
    ['stays', [3, 5], [3.1, 5], '; the reach stays 3.1–5 mm, no better known than before.'],
    ['lies beyond the lines', [END, END], [END, END], '; the reach stays at least 22 mm.'],
    ['ends within them', [0, END], [8, 10], ', and the reach narrows from 0 to at least 22 mm to 8–10 mm.'],
    ['is nowhere', [0, 3], [0, 0], ', but by them the wanted margin holds nowhere, not even centred.'],
  ] as const)('where the reach %s', (_name, before, after, words) => {
    expect(said(before, after)).toBe(`The readings agree with the model${words}`);
  });

  test('where the model does not explain the readings says so first, and warns of the reach', () => {
    expect(said([0, 7.5], [2.5, 5.3], false)).toBe(
      'The model does not explain these readings: they are 3.2 times as far off as they should be. Do not build on its reach, 2.5–5.3 mm, yet.',
    );
  });

  // Two lines of the headline hold some 75 characters each on a page 1440 px wide.
  test('fits into two lines however the reach goes', () => {
    const ends = [0, 10.4, END] as const;
    const bands = ends.flatMap((low) => ends.filter((high) => high >= low).map((high) => [low, high] as const));
    for (const before of bands) {
      for (const after of bands) {
        for (const explains of [true, false]) expect(said(before, after, explains).length).toBeLessThanOrEqual(150);
      }
    }
  });
});

describe('what the readings fix', () => {
  const value = (over: Partial<FittedValue>): FittedValue => ({
    id: 'receiverCapacitance',
    name: 'receiver series capacitor',
    group: 'tuning',
    path: 'receiver.pickup.seriesCapacitanceNf',
    unit: 'nF',
    prior: { value: 110, low: 100, high: 120 },
    because: 'stated',
    fitted: { value: 115, low: 112, high: 118 },
    shrink: 0.3,
    pull: 1,
    decidedBy: 'readings',
    ...over,
  });
  const combination = (parts: number): FitReport['combinations'][number] => ({
    words: 'some',
    shrink: 0.2,
    parts: Array.from({ length: parts }, (_, i) => ({ name: String(i), share: 1 })),
  });
  const plain = (values: readonly FittedValue[], combinations: FitReport['combinations']) =>
    fixesSentence(values, combinations).replace(NBSP, ' ');

  test('names the value that the reach hangs on most', () => {
    expect(plain([value({ group: 'resistance', name: 'cable' }), value({})], [combination(3)])).toBe(
      'They fix the receiver series capacitor to 112–118 nF.',
    );
  });

  test('counts combinations where no single value is decided', () => {
    const undecided = value({ decidedBy: 'both' });
    expect(plain([undecided], [combination(2), combination(1)])).toBe('They fix 2 combinations of values.');
    expect(plain([undecided], [combination(2)])).toBe('They fix one combination of values.');
    expect(plain([undecided], [])).toBe('They fix nothing better than it was known.');
  });
});

test('what it rests on: readings, numbers, how far off, and what they fix', () => {
  const of = { observations: 34, agreement: 0.52, explains: true, fixes: 'They fix one combination of values.' };
  expect(fitRests({ ...of, readingsUsed: 14 })).toBe(
    '14 readings, 34 numbers, off by 0.5 of their accuracy on average. They fix one combination of values.',
  );
  // The answer itself says how far off, where the model does not explain them.
  expect(fitRests({ ...of, readingsUsed: 1, explains: false })).toBe(
    'One reading, 34 numbers. They fix one combination of values.',
  );
});
