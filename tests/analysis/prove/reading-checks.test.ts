import { expect, test } from 'vitest';
import { readingFacts } from '../../../src/analysis/prove/reading-checks.ts';
import type { ReadingDocument } from '../../../src/design/types.ts';

const METERS = { voltagePercent: 0.5, voltageCountsMv: 20, currentPercent: 1, currentCountsMa: 10 };
const reading = (change: Partial<ReadingDocument>): ReadingDocument => ({
  supplyV: 5,
  supplyA: 0.64,
  outputV: 5,
  outputA: 0.5,
  gapMm: 5.9,
  offsetXMm: 0,
  offsetYMm: 0,
  frequencyKhz: null,
  rectifiedV: null,
  receiverC: null,
  transmitterC: null,
  regulated: true,
  ...change,
});

test('power and efficiency', () => {
  const facts = readingFacts(METERS, reading({}));
  expect(facts.supplyW).toBeCloseTo(3.2, 12);
  expect(facts.outputW).toBeCloseTo(2.5, 12);
  expect(facts.efficiency).toBeCloseTo(0.78125, 12);
  expect(facts.flags).toEqual([]);
});

test('more out than in is flagged, milder within the accuracy of the meters', () => {
  expect(readingFacts(METERS, reading({ supplyA: 0.3 })).flags[0]).toMatch(/slip of the pen/);
  expect(readingFacts(METERS, reading({ supplyA: 0.495 })).flags[0]).toMatch(/within the meters/);
});

test('what is not measured is not made up', () => {
  const facts = readingFacts(METERS, reading({ supplyA: null, outputA: null }));
  expect(facts.efficiency).toBeNull();
  expect(facts.flags).toEqual(['no output current: left out of the fit']);
});

test('a rectified voltage below the output is flagged', () => {
  expect(readingFacts(METERS, reading({ rectifiedV: 4.5 })).flags[0]).toMatch(/below the output/);
  expect(readingFacts(METERS, reading({ rectifiedV: 5.3 })).flags).toEqual([]);
});
