import { describe, expect, it } from 'vitest';
import { type LayoutPlates, layoutForceOnPlates } from '../../../src/physics/magnet/layout-on-plates.ts';
import type { MagnetLayout } from '../../../src/physics/magnet/magnet-layout.ts';
import { layoutProfile } from '../../../src/physics/magnet/pair-profile.ts';
import {
  plateForceCount,
  samplePlateForces,
  solvePlateForces,
  withPlateForces,
} from '../../../src/physics/magnet/plate-force-map.ts';
import { softPlate } from '../../../src/physics/magnet/soft-plate.ts';

const magnet = { radius: 3e-3, thickness: 2e-3, remanence: 1.2 };
const pair: MagnetLayout = {
  positions: Float64Array.from([-29e-3, 0, 29e-3, 0]),
  polarity: null,
  lower: magnet,
  upper: magnet,
  facing: 'magnet',
  gap: 4e-3,
};
const plates: LayoutPlates = {
  dock: {
    plate: softPlate({ shape: 'roundedRectangle', width: 50e-3, height: 50e-3, cornerRadius: 1e-3 }, 1e-3, 700, {
      cell: 4e-3,
      layers: 1,
    }),
    height: -3.2e-3,
  },
  device: null,
};

describe.each([
  ['a mirrored layout', pair, 25],
  ['a lopsided one', { ...pair, positions: Float64Array.from([-29e-3, 2e-3, 29e-3, 0]) }, 81],
])('%s', (_name, layout, samples) => {
  const map = samplePlateForces(layout, plates, 9e-3);
  const force = withPlateForces(layoutProfile(layout, 0.02), map);

  it('takes the samples it needs, and the same in pieces', () => {
    expect(map.samples).toBe(samples);
    expect(plateForceCount(layout)).toBe(samples);
    const pieces = [
      [0, 2],
      [2, 3],
    ].flatMap(([from, to]) => [...solvePlateForces(layout, plates, 9e-3, from, to)]);
    expect(pieces).toEqual([...solvePlateForces(layout, plates, 9e-3, 0, 3)]);
  });

  it('reproduces direct solutions between its samples', () => {
    const out = new Float64Array(4);
    let worst = 0;
    let largest = 0;
    for (const [x, y] of [
      [0, 0],
      [2.3e-3, 1.1e-3],
      [-5.2e-3, 3.3e-3],
      [7.7e-3, -8.1e-3],
    ]) {
      force(x, y, 0, out);
      const { total, air } = layoutForceOnPlates(layout, plates, x, y, 0);
      const part = Math.hypot(total.fx - air.fx, total.fy - air.fy, total.fz - air.fz);
      largest = Math.max(largest, part);
      worst = Math.max(worst, Math.abs(out[0] - total.fx), Math.abs(out[1] - total.fy), Math.abs(out[2] + total.fz));
    }
    // Of the plate's largest part; panels of 4 mm make its edge jagged.
    expect(worst).toBeLessThan(0.05 * largest);
    expect(largest).toBeGreaterThan(0.05);
  });

  it('holds the edge value beyond the square', () => {
    const inside = force(9e-3, 0, 0, new Float64Array(4));
    const outside = force(12e-3, 0, 0, new Float64Array(4));
    const air = layoutProfile(layout, 0.02);
    const airIn = air(9e-3, 0, 0, new Float64Array(4));
    const airOut = air(12e-3, 0, 0, new Float64Array(4));
    expect(outside[2] - airOut[2]).toBeCloseTo(inside[2] - airIn[2], 10);
  });
});
