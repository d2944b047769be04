import { describe, expect, it } from 'vitest';
import {
  discsOf,
  type LayoutPlates,
  layoutForceOnPlates,
  layoutPlateFaults,
} from '../../../src/physics/magnet/layout-on-plates.ts';
import { HOME, layoutForce, type MagnetLayout } from '../../../src/physics/magnet/magnet-layout.ts';
import { softPlate } from '../../../src/physics/magnet/soft-plate.ts';

const magnet = { radius: 3e-3, thickness: 2e-3, remanence: 1.2 };
const layout: MagnetLayout = {
  positions: Float64Array.from([-28e-3, 0, 28e-3, 0]),
  polarity: Int8Array.from([1, -1]),
  lower: magnet,
  upper: magnet,
  facing: 'magnet',
  gap: 5e-3,
};
const square = { shape: 'roundedRectangle', width: 50e-3, height: 50e-3, cornerRadius: 1e-3 } as const;
const narrow = { shape: 'roundedRectangle', width: 48e-3, height: 36e-3, cornerRadius: 1e-3 } as const;
const options = { cell: 3.5e-3, layers: 1 };
const dock = softPlate(square, 1e-3, 700, options);
const device = softPlate(narrow, 0.6e-3, 700, options);
const plates: LayoutPlates = { dock: { plate: dock, height: -5e-3 }, device: { plate: device, height: 5.6e-3 } };

describe('layoutForceOnPlates', () => {
  it('without plates is the force of the magnets', () => {
    const force = layoutForceOnPlates(layout, { dock: null, device: null }, 2e-3, 1e-3, 0.1);
    expect(force.total).toEqual(force.air);
    expect(force.air).toEqual(layoutForce(layout, { ...HOME, x: 2e-3, y: 1e-3, yaw: 0.1 }));
  });

  it('has the air value as the limit of a permeability of one, and of plates far away', () => {
    const weak: LayoutPlates = {
      dock: { plate: softPlate(square, 1e-3, 1.0001, options), height: -5e-3 },
      device: { plate: softPlate(narrow, 0.6e-3, 1.0001, options), height: 5.6e-3 },
    };
    const far: LayoutPlates = { dock: { plate: dock, height: -0.5 }, device: { plate: device, height: 0.5 } };
    for (const around of [weak, far]) {
      const { total, air } = layoutForceOnPlates(layout, around, 3e-3, 0, 0);
      expect(Math.abs(total.fx - air.fx)).toBeLessThan(2e-3 * Math.abs(air.fx));
      expect(Math.abs(total.fz - air.fz)).toBeLessThan(2e-3 * Math.abs(air.fz));
    }
  });

  it('ferrite adds pull; the two plates settle', () => {
    const { total, air, change } = layoutForceOnPlates(layout, plates, 0, 0, 0);
    expect(-total.fz).toBeGreaterThan(-air.fz * 1.02);
    expect(change).toBeLessThan(1e-3);
    expect(Math.hypot(total.fx, total.fy)).toBeLessThan(1e-3 * Math.abs(total.fz));
  });

  it('is mirrored with the offset and the turn', () => {
    const a = layoutForceOnPlates(layout, plates, 3e-3, 2e-3, 0.05).total;
    const b = layoutForceOnPlates(layout, plates, 3e-3, -2e-3, -0.05).total;
    expect(b.fx).toBeCloseTo(a.fx, 6);
    expect(b.fy).toBeCloseTo(-a.fy, 6);
    expect(b.tz).toBeCloseTo(-a.tz, 7);
  });

  it('action is reaction: turned over, the other side takes the opposite force', () => {
    const over: LayoutPlates = { dock: { plate: device, height: -5.6e-3 }, device: { plate: dock, height: 5e-3 } };
    const a = layoutForceOnPlates(layout, plates, 3e-3, 2e-3, 0).total;
    // Seen from below with y turned over: the old dock sits at (-3, +2) mm over the old device.
    const b = layoutForceOnPlates({ ...layout, polarity: layout.polarity }, over, -3e-3, 2e-3, 0).total;
    expect(Math.abs(b.fx + a.fx)).toBeLessThan(1e-3 * Math.abs(a.fz));
    expect(Math.abs(b.fy - a.fy)).toBeLessThan(1e-3 * Math.abs(a.fz));
    expect(Math.abs(b.fz / a.fz - 1)).toBeLessThan(1e-3);
  });

  it('the turn torque belongs to the same energy: d fx / d yaw = d tz / d x', () => {
    const at = (x: number, yaw: number) => layoutForceOnPlates(layout, plates, x, 2e-3, yaw).total;
    const left = (at(2e-3, 0.04).fx - at(2e-3, 0).fx) / 0.04;
    const right = (at(2.4e-3, 0.02).tz - at(1.6e-3, 0.02).tz) / 0.8e-3;
    // Finite panels: the residue is that of a coarse mesh, a hundredth of the torque's own scale.
    expect(Math.abs(left - right)).toBeLessThan(0.05 * Math.abs(at(0, 0).fz));
  });

  it('steel-faced devices feel the ferrite too', () => {
    const steel: MagnetLayout = { ...layout, facing: 'steel' };
    const { total, air } = layoutForceOnPlates(steel, plates, 1e-3, 0, 0);
    expect(-total.fz).toBeGreaterThan(-air.fz);
  });
});

describe('layoutPlateFaults', () => {
  it('finds magnets that would lie in a plate', () => {
    expect(layoutPlateFaults(layout, plates)).toEqual([]);
    const inside: MagnetLayout = { ...layout, positions: Float64Array.from([-20e-3, 0, 30e-3, 0]) };
    const faults = layoutPlateFaults(inside, { dock: { plate: dock, height: -3.5e-3 }, device: null });
    expect(faults).toHaveLength(1);
    expect(faults[0]).toMatch(/\(-20\.0, 0\.0\) mm.*dock's ferrite/);
  });
});

describe('discsOf', () => {
  it('places faces half a gap from the middle and turns poles', () => {
    const discs = discsOf(layout, true);
    expect(discs[0].z).toBeCloseTo(3.5e-3, 12);
    expect(discs[1].disc.remanence).toBe(-1.2);
    expect(discsOf(layout, false)[0].z).toBeCloseTo(-3.5e-3, 12);
  });
});
