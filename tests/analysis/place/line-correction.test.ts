import { expect, test } from 'vitest';
import { contradicted, correctPoints, nextExact } from '../../../src/analysis/place/line-correction.ts';
import { type ExactPoint, exactPoint } from '../../../src/analysis/place/line-exact.ts';
import { type SweepPoint, sweepPoint } from '../../../src/analysis/place/line-sweep.ts';
import { demandOf } from '../../../src/design/demand.ts';
import { airPair } from '../pair/air-pair.ts';

const design = airPair();
const { demandA } = demandOf(design);
const COUNT = 41;

/** Collapse at 25.3 by first harmonic, at 22.6 by the exact circuit; touching below 3. */
const fastOf = (at: number): number => demandA * (at < 25.3 ? 2 - at / 50 : 0);
const exactOf = (at: number): number => demandA * (at < 22.6 ? 1.96 - at / 50 : 0);
const base = sweepPoint(design, 'gap', 3, null, []);

function pointAt(at: number): SweepPoint {
  const maxOutputA = at < 3 ? Number.NaN : fastOf(at);
  const band = maxOutputA > 0 ? 0.1 : 0;
  const carried = maxOutputA >= demandA;
  return {
    ...base,
    at,
    maxOutputA,
    less: band,
    more: band,
    state: carried ? 'regulated' : 'starved',
    link: at < 3 ? null : base.link,
  };
}
const points = Array.from({ length: COUNT }, (_, at) => pointAt(at));

function exactAt(at: number, whole: boolean): ExactPoint {
  const maxOutputA = exactOf(at);
  const state = maxOutputA >= demandA ? ('regulated' as const) : ('starved' as const);
  return { maxOutputA, point: whole ? { state, efficiency: 0.5, frequencyHz: 1e5 } : null };
}

function wholeLine(): Map<number, ExactPoint> {
  const exact = new Map<number, ExactPoint>();
  for (let round = 0; round < 20; round++) {
    const next = nextExact(design, points, exact);
    if (next.length === 0) break;
    for (const index of next) exact.set(index, exactAt(index, false));
  }
  return exact;
}

test('a cliff that the first harmonic has elsewhere is where the exact circuit has it, with few solutions', () => {
  const exact = wholeLine();
  expect(exact.size).toBeLessThan(20);
  const line = correctPoints(design, points, exact);
  for (let at = 3; at < COUNT; at++) expect(Math.abs(line[at]!.maxOutputA - exactOf(at))).toBeLessThan(0.01 * demandA);
  expect(line[22]!.marginPercent).toBeCloseTo(52, 6);
  expect(line[22]!.marginLowPercent).toBeCloseTo(36.8, 6);
  expect(line[23]!.marginPercent).toBe(-100);
});

test('what cannot be solved is not asked and stays as it is', () => {
  const exact = wholeLine();
  expect(Math.min(...exact.keys())).toBe(3);
  const line = correctPoints(design, points, exact);
  expect(line.slice(0, 3)).toEqual(points.slice(0, 3));
  const none = points.map((point) => ({ ...point, link: null }));
  expect(nextExact(design, none, new Map())).toEqual([]);
  expect(correctPoints(design, none, new Map())).toEqual(none);
});

test('states that contradict the current are solved again, the others stay', () => {
  const exact = wholeLine();
  const asked = contradicted(design, points, exact);
  expect(asked).toEqual([23, 24, 25]);
  for (const index of asked) exact.set(index, exactAt(index, true));
  expect(contradicted(design, points, exact)).toEqual([]);
  const line = correctPoints(design, points, exact);
  expect(line.slice(22, 27).map(({ state }) => state)).toEqual([
    'regulated',
    'starved',
    'starved',
    'starved',
    'starved',
  ]);
  expect([line[23]!.efficiency, line[22]!.efficiency]).toEqual([0.5, base.efficiency]);
});

test('a point by the exact circuit, with its operating point where that is asked', () => {
  if (!base.link) throw new Error('3 mm must be solvable');
  const plain = exactPoint(design, base.link, false);
  const whole = exactPoint(design, base.link, true);
  expect(plain.point).toBeNull();
  expect(whole.maxOutputA).toBe(plain.maxOutputA);
  // Far from collapse the two circuits agree.
  expect(Math.abs(plain.maxOutputA / base.maxOutputA - 1)).toBeLessThan(0.1);
  expect(whole.point?.state).toBe(base.state);
});

test('a line of one point is solved at it', () => {
  const one = [points[5]!];
  expect(nextExact(design, one, new Map())).toEqual([0]);
  expect(correctPoints(design, one, new Map([[0, exactAt(5, false)]]))[0]!.maxOutputA).toBe(exactOf(5));
});
