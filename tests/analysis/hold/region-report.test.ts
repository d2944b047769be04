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
    points: 61,
    xMm: axis,
    yMm: axis,
    marginPercent,
    peakOutputA: new Float64Array(61 * 61),
    wakeSlackV: new Float64Array(61 * 61).fill(1),
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
      /^At the worst gap and turn the safe region has a hole about [34]\.\d mm across at \(4\.0, -?0\.0\) mm\.$/,
    );
    const centred = { ...demo(), placement: { ...demo().placement, offsetXMm: 4 } };
    expect(regionReport(centred, [ringed, ...volume])?.notes[0]).toContain('the resting place itself is not safe');
    expect(regionReport(demo(), [layer('worst', 5, 0, 8), ...volume])?.notes).toEqual([]);
  });
});
