import { describe, expect, it } from 'vitest';
import { createFieldModel } from '../../../src/physics/field/field-model.ts';
import { AIR1, coil1, coil2, disc, pose, regions, square } from './fixtures.ts';

describe('limits and symmetries', () => {
  it('meets the standard transmitter coil within its tolerance, and only with its plate', () => {
    // Digits from memory, see reference-cases/ferrite. Least shield: 0.5 mm, 2 mm beyond the coil, 1 mm behind.
    const [region] = regions('ferrite', 'standard-transmitter-coil');
    const row = region!.rows.find(({ id }) => id === 'qi-a11-L')!;
    const wanted = row.expected as unknown as number;
    const outer = row.inputs.outerDiameterMm! / 2e3;
    expect(coil1.halfWidth).toBeCloseTo(outer, 9);
    const side = { winding: coil1, ferrite: disc(outer + 2e-3, 0.5e-3, 700, 1e-3), metal: null };
    const l = AIR1 + 1e6 * createFieldModel(side, { winding: coil2, ferrite: null, metal: null }).alone().dL1;
    expect(Math.abs(l / wanted - 1)).toBeLessThan(region!.tolerance.rel);
    expect(Math.abs(AIR1 / wanted - 1)).toBeGreaterThan(region!.tolerance.rel);
  });

  it('refuses plates that touch, naming both, and standoffs below zero', () => {
    const transmitter = { winding: coil1, ferrite: disc(25e-3, 1e-3, 700, 0.5e-3), metal: null };
    const receiver = { winding: coil2, ferrite: disc(21e-3, 0.8e-3, 700, 0.3e-3), metal: null };
    const model = createFieldModel(transmitter, receiver);
    expect(() => model.solve(pose(0.0005))).toThrow(/receiver\.coil.*transmitter\.coil/);
    expect(() => model.solve(pose(0.006, 0, 0, 0, 0.5))).toThrow(/clear of transmitter/);
    expect(() => createFieldModel({ ...transmitter, ferrite: disc(25e-3, 1e-3, 700, -1e-3) }, receiver)).toThrow(
      /standoff/,
    );
  });

  it('tilted and turned poses keep mirror symmetry and reciprocity', () => {
    const transmitter = { winding: coil1, ferrite: square(50e-3, 1e-3, 700, 0.5e-3), metal: null };
    const receiver = { winding: coil2, ferrite: square(42e-3, 0.8e-3, 700, 0.3e-3), metal: null };
    const model = createFieldModel(transmitter, receiver);
    const a = model.solve(pose(0.012, 0.005, 0.003, 0.2, 0.1, -0.05));
    const b = model.solve(pose(0.012, -0.005, 0.003, -0.2, 0.1, 0.05));
    for (const key of ['dL1', 'dL2', 'dM'] as const) expect(Math.abs(b[key] / a[key] - 1)).toBeLessThan(2e-4);
    // The other way round: each side described as the other, the pose inverted (no turn but a tilt about x).
    const tilt = 0.1;
    const forth = model.solve(pose(0.012, 0, 0.002, 0, tilt));
    const swapped = createFieldModel({ ...receiver }, { ...transmitter });
    // Seen from the receiver with z reversed: y and z of the transmitter in that frame.
    const back = swapped.solve(
      pose(
        Math.cos(tilt) * 0.012 - Math.sin(tilt) * 0.002,
        0,
        -(Math.cos(tilt) * 0.002 + Math.sin(tilt) * 0.012),
        0,
        tilt,
      ),
    );
    expect(Math.abs(back.dL1 / forth.dL2 - 1)).toBeLessThan(5e-4);
    expect(Math.abs(back.dL2 / forth.dL1 - 1)).toBeLessThan(5e-4);
    expect(Math.abs(back.dM / forth.dM - 1)).toBeLessThan(5e-4);
  });

  it('core loss is the loss tangent times the slope over permeability', () => {
    const at = pose(0.006);
    // The receiver's plate loses nothing and stays the same object, so that it is worked out once.
    const receiver = { winding: coil2, ferrite: { ...disc(21e-3, 0.8e-3, 700, 0.3e-3)!, lossTangent: 0 }, metal: null };
    const withMu = (mu: number) =>
      createFieldModel({ winding: coil1, ferrite: disc(25e-3, 1e-3, mu, 0.5e-3), metal: null }, receiver).solve(at);
    const h = 20;
    const slope = (withMu(700 + h).grid.dL1 - withMu(700 - h).grid.dL1) / (2 * h);
    const wanted = 2 * Math.PI * 700 * 0.02 * slope;
    expect(Math.abs(withMu(700).loss.core1 / wanted - 1)).toBeLessThan(0.01);
  });
});
