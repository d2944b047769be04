import { expect, test } from 'vitest';
import { type GapPoint, gapReach, gapScan, nextGap, supplyGapPoint } from '../../../src/analysis/supply/supply-gap.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import { typicalLink } from '../../physics/circuit/boards.ts';

const parsed = parseDesign({
  ...DEMO_DESIGN,
  demand: { wantedMarginPercent: 20, loads: [{ name: 'on', kind: 'typical', atV: 5, currentA: 0.5 }] },
});
if (!parsed.ok) throw new Error('the demo must resolve');
const { design } = parsed;
/** 0.6 A are needed with the wanted margin. */
const line = (slope: number): GapPoint[] =>
  [2, 6, 10, 14].map((gapMm) => ({ gapMm, maxOutputA: 1 - slope * (gapMm - 2), wakeRatio: 2 - gapMm / 10 }));

test('the reach lies where the current meets the need; its band where the current less and more would', () => {
  const reach = gapReach(design, line(0.05), 0.1, 0.1);
  expect(reach.holdMm.value).toBeCloseTo(10, 12);
  expect(reach.holdMm.low).toBeCloseTo(2 + (1 - 0.6 / 0.9) / 0.05, 12);
  expect(reach.holdMm.high).toBeCloseTo(2 + (1 - 0.6 / 1.1) / 0.05, 12);
  expect(reach.wakeMm).toBeCloseTo(10, 12);
  expect(reach.beyond).toBe(false);
  expect(nextGap(design, line(0.05))).toBeCloseTo(10, 12);
});

test('not held at the first gap, or held at all of them', () => {
  expect(
    gapReach(
      design,
      line(0.05).map((p) => ({ ...p, maxOutputA: 0.3 })),
      0.1,
      0.1,
    ).holdMm.value,
  ).toBe(0);
  const far = gapReach(design, line(0.001), 0, 0);
  expect([far.holdMm.value, far.beyond]).toEqual([14, true]);
  expect(nextGap(design, line(0.001))).toBeNull();
});

test('a second stretch beyond a collapse does not count', () => {
  const points = [1, 0.4, 0.9].map((maxOutputA, i) => ({ gapMm: 2 + 4 * i, maxOutputA, wakeRatio: 1 }));
  expect(gapReach(design, points, 0, 0).holdMm.value).toBeLessThan(6);
});

test('the scan starts at the gap and goes outwards; a solved point is the exact circuit there', () => {
  const scan = gapScan(design);
  expect(scan[0]).toBeCloseTo(design.placement.gapMm, 12);
  expect(scan.at(-1)).toBeCloseTo(40, 9);
  const near = supplyGapPoint(design, typicalLink(0.4), 5);
  const far = supplyGapPoint(design, typicalLink(0.08), 25);
  expect(near.maxOutputA).toBeGreaterThan(0.8);
  expect(far.maxOutputA).toBeLessThan(near.maxOutputA);
  expect(far.wakeRatio).toBeLessThan(near.wakeRatio);
});
