import { describe, expect, it } from 'vitest';
import type { HoldLayer, LayerUse } from '../../../src/analysis/hold/hold-layer.ts';
import { regionReport } from '../../../src/analysis/hold/region-report.ts';
import { demo } from './demo-design.ts';

/** A made-up layer whose margin is 20 at a circle of radius r. */
function layer(use: LayerUse, gapMm: number, yaw: number, radius: number, centre = 0): HoldLayer {
  const axis = Float64Array.from({ length: 61 }, (_, i) => -15 + i / 2);
  const marginPercent = new Float64Array(61 * 61);
  for (let j = 0; j < 61; j += 1)
    for (let i = 0; i < 61; i += 1)
      marginPercent[61 * j + i] = 20 + radius ** 2 - (axis[i] - centre) ** 2 - axis[j] ** 2;
  return {
    use,
    gapMm,
    yaw,
    tiltX: 0,
    tiltY: 0,
    points: 61,
    xMm: axis,
    yMm: axis,
    marginPercent,
    peakOutputA: new Float64Array(61 * 61),
    wakeSlackV: new Float64Array(61 * 61).fill(1),
    lowPercent: null,
    highPercent: null,
  };
}

describe('regionReport', () => {
  const volume = [4, 6, 8].map((gap) => layer('volume', gap, 0, 12 - gap));
  it('is safe only where every gap and turn is', () => {
    const report = regionReport(demo(), [
      layer('worst', 5, -0.1, 8, 1),
      layer('worst', 5, 0.1, 8, -1),
      layer('worst', 7, 0, 7.5),
      ...volume,
    ]);
    if (!report) throw new Error('no report');
    expect(report.worst.reachMm).toBeCloseTo(7, 2);
    expect(report.worstGapsMm).toEqual([5, 7]);
    expect(report.worstTurns).toEqual([-0.1, 0, 0.1]);
    expect(report.cutOff).toBe(false);
  });
  it('a tilted layer counts like any other', () => {
    const wedge = { ...layer('worst', 6, 0, 8, 3), tiltY: 0.01 };
    const report = regionReport(demo(), [layer('worst', 6, 0, 8), wedge, ...volume]);
    expect(report?.worst.reachMm).toBeCloseTo(5, 1);
    expect(report?.worstTilts).toEqual([0, 0.01]);
  });

  it('the reach has the band of its margins, and what a check found missing', () => {
    // The margin falls as 20 + r^2 - rho^2: 17 points less take the radius from 9 to 8, 19 more to 10.
    const base = layer('worst', 5, 0, 9);
    const banded = {
      ...base,
      lowPercent: base.marginPercent.map((v) => v - 17),
      highPercent: base.marginPercent.map((v) => v + 19),
    };
    const report = regionReport(demo(), [banded, ...volume]);
    expect(report?.reachMm.value).toBeCloseTo(9, 1);
    expect(report?.reachMm.low).toBeCloseTo(8, 1);
    expect(report?.reachMm.high).toBeCloseTo(10, 1);
    const missing = regionReport(demo(), [banded, ...volume], { places: 10, shortfallPercent: 15 });
    expect(missing?.reachMm.low).toBeCloseTo(7, 1);
    expect(missing?.reachMm.high).toBeCloseTo(10, 1);
    // Without a band the value stands alone.
    expect(regionReport(demo(), [base, ...volume])?.reachMm).toEqual({
      value: report?.reachMm.value,
      low: report?.reachMm.value,
      high: report?.reachMm.value,
    });
  });

  it('volume: areas pi (12 - g)^2 over the gap', () => {
    const report = regionReport(demo(), [layer('worst', 5, 0, 8), ...volume]);
    // Integral of pi (12 - g)^2 from 4 to 8.
    expect(report?.volumeMm3).toBeCloseTo((Math.PI * (8 ** 3 - 4 ** 3)) / 3, 0);
    expect(report?.reachesMm[0]).toBeCloseTo(8, 2);
  });
  it('says where the map cuts it off; nothing without layers', () => {
    expect(regionReport(demo(), [layer('worst', 5, 0, 8), layer('volume', 4, 0, 40)])?.cutOff).toBe(true);
    expect(regionReport(demo(), volume)).toBeNull();
  });

  it('tells of a hole, and of a resting place in it', () => {
    const ringed = layer('worst', 5, 0, 9);
    for (let k = 0; k < ringed.marginPercent.length; k += 1)
      if (Math.hypot(ringed.xMm[k % 61] - 4, ringed.yMm[Math.floor(k / 61)]) < 2) ringed.marginPercent[k] = -50;
    const beside = regionReport(demo(), [ringed, ...volume]);
    expect(beside?.worst.outline).toHaveLength(2);
    expect(beside?.notes).toHaveLength(1);
    expect(beside?.notes[0]).toMatch(
      /^At the worst gap, turn and tilt the safe region has a hole about [34]\.\d mm across at \(4\.0, -?0\.0\) mm\.$/,
    );
    const centred = { ...demo(), placement: { ...demo().placement, offsetXMm: 4 } };
    expect(regionReport(centred, [ringed, ...volume])?.notes[0]).toContain('the resting place itself is not safe');
    expect(regionReport(demo(), [layer('worst', 5, 0, 8), ...volume])?.notes).toEqual([]);
  });
});
