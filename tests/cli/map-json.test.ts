import { expect, test } from 'vitest';
import { mapDocument } from '../../src/analysis/hold/exports/map-json.ts';
import type { OffsetMap } from '../../src/analysis/types.ts';
import { jsonText } from '../../src/cli/terminal.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';

test('the map prints as plain JSON: lists, rings of points, null where there is no number', () => {
  const result = parseDesign(DEMO_DESIGN);
  if (!result.ok) throw new Error('the demo has faults');
  const map: OffsetMap = {
    gapMm: 5.9,
    xMm: Float64Array.of(-1, 0, 1),
    yMm: Float64Array.of(-1, 1),
    maxOutputA: Float64Array.of(1, 2, 3, 4, Number.NaN, Number.POSITIVE_INFINITY),
    peakOutputA: new Float64Array(6).fill(2),
    marginPercent: new Float64Array(6),
    coupling: new Float64Array(6).fill(0.4),
    mutualInductanceH: new Float64Array(6).fill(4e-6),
    wakes: Uint8Array.of(1, 1, 1, 0, 0, 0),
    demandA: 0.78,
    wantedMarginPercent: 20,
    safeOutline: [Float64Array.of(1, 0, 0, 1, -1, 0), Float64Array.of(0.1, 0, 0, 0.1, -0.1, 0)],
    collapseOutline: [],
    wakeOutline: [],
    reachMm: { value: 0, low: 0, high: 1 },
    holdReachMm: 10,
    wakeReachMm: 12,
    innerLimitMm: 0.1,
    peakReachMm: [{ name: 'start-up', reachMm: 9 }],
    tightestDeg: 30,
    timing: { linkModelMs: 1, gridMs: 2, circuitMs: 3, totalMs: 6 },
  };
  const printed = JSON.parse(
    jsonText({ ...mapDocument(map, result.design.title), defaultsTaken: ['receiver.pickup.wakeV'] }, 0),
  );
  expect(printed.xMm).toEqual([-1, 0, 1]);
  expect(printed.maxOutputA).toEqual([1, 2, 3, 4, null, null]);
  expect(printed.wakes).toEqual([1, 1, 1, 0, 0, 0]);
  expect(printed.safeOutline).toEqual([
    [
      [1, 0],
      [0, 1],
      [-1, 0],
    ],
    [
      [0.1, 0],
      [0, 0.1],
      [-0.1, 0],
    ],
  ]);
  expect(printed.reachMm).toEqual({ value: 0, low: 0, high: 1 });
  expect(printed.timing).toEqual({ linkModelMs: 1, gridMs: 2, circuitMs: 3, totalMs: 6 });
  expect(printed.defaultsTaken).toEqual(['receiver.pickup.wakeV']);
});
