import { expect, test } from 'vitest';
import {
  followsMutual,
  type LineNode,
  nextLineNodes,
  onDiagonal,
  readLine,
} from '../../../src/analysis/place/check-line.ts';
import type { MapCheck } from '../../../src/analysis/place/map-check.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import { airPair } from '../pair/air-pair.ts';

const design = airPair();

/** Two curves that fall off at once, each at its own mutual inductance, as near collapse. */
const fastOf = (m: number): number => (m > 2.1e-6 ? 1.2 : m > 2e-6 ? 1.2 - (2.1e-6 - m) * 1.2e7 : 0);
const exactOf = (m: number): number => fastOf(m * 1.04);
const mutualAt = (share: number): number => 5e-6 * Math.exp(-2.5 * share * share);

function checkAt(share: number): LineNode<MapCheck> {
  const mutualH = mutualAt(share);
  const fastA = fastOf(mutualH);
  const difference = exactOf(mutualH) - fastA;
  return { share, check: { difference, relative: 1, wakeRatio: 1, less: 0, more: 0, mutualH, fastA } };
}

function wholeLine(): LineNode<MapCheck>[] {
  let line: LineNode<MapCheck>[] = [];
  for (let k = 0; k < 20; k++) {
    const next = nextLineNodes(design, line);
    if (next.length === 0) break;
    line = [...line, ...next.map(checkAt)].toSorted((a, b) => a.share - b.share);
  }
  return line;
}

test('two cliffs are followed with few checks, and anywhere between it reads the right difference', () => {
  const line = wholeLine();
  expect(line.length).toBeLessThan(50);
  const read = readLine(line.map(({ check }) => check));
  let off = 0;
  let worst = 0;
  for (let i = 0; i <= 2000; i++) {
    const m = mutualAt(i / 2000);
    const error = Math.abs(fastOf(m) + read(m, 'difference') - exactOf(m));
    worst = Math.max(worst, error);
    if (error > 0.02) off++;
  }
  // Only inside the intervals that hold a corner of a cliff.
  expect(off / 2001).toBeLessThan(0.02);
  expect(worst).toBeLessThan(0.25);
  expect(read(-2.05e-6, 'difference')).toBe(read(2.05e-6, 'difference'));
});

test('where nothing falls nothing is looked into; beyond the line its ends count', () => {
  const flat = Array.from({ length: 9 }, (_, i): LineNode => {
    const check: MapCheck = {
      difference: 0.01,
      relative: 0,
      wakeRatio: 1.1,
      less: 0,
      more: 0,
      mutualH: 1e-6 * (9 - i),
      fastA: 1,
    };
    return { share: i / 8, check };
  });
  expect(nextLineNodes(design, flat)).toEqual([]);
  const read = readLine(flat.map(({ check }) => check));
  expect([read(1, 'wakeRatio'), read(0, 'difference')]).toEqual([1.1, 0.01]);
});

test('the line runs from the middle to the corner; coils alone follow it, plates do not', () => {
  const axis = Float64Array.of(-20, 0, 20);
  expect(onDiagonal(axis, axis, 0)).toEqual([0, 0]);
  expect(onDiagonal(axis, axis, 0.25)).toEqual([5, 5]);
  expect(followsMutual(design)).toBe(true);
  const demo = parseDesign(DEMO_DESIGN);
  expect(demo.ok && followsMutual(demo.design)).toBe(false);
});
