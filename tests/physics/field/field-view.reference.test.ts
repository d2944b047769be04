import { describe, expect, it } from 'vitest';
import { MU0 } from '../../../src/physics/constants.ts';
import { createFieldModel } from '../../../src/physics/field/field-model.ts';
import { coil1, coil2, disc, distanceOf, pose, regions } from './fixtures.ts';

/** One coil as a bare loop or polygon carrying a current, the other far away without one. */
const bare = { ferrite: null, metal: null };
const far = pose(10);

describe('free field (reference-cases/field, topic 6 of the published set)', () => {
  const [region] = regions('field', 'free-field');
  const rows = region!.rows.filter((row) => row.inputs.a_m !== undefined);
  it.each(rows)('$id', (row) => {
    const radius = row.inputs.a_m!;
    const pieces = [{ kind: 'arc' as const, cx: 0, cy: 0, radius, start: 0, sweep: 2 * Math.PI }];
    const winding = { ...coil1, turns: [{ pieces, z: 0, weight: 1 }], halfWidth: radius, halfHeight: radius };
    const model = createFieldModel({ winding, ...bare }, { winding: coil2, ...bare });
    const rho = row.inputs.rho_m ?? 0;
    const b = model.fieldAt(far, 1, 0, Float64Array.of(rho, 0, row.inputs.z_m!));
    const expected = row.expected as unknown as number | { Brho_uT: number; Bz_uT: number };
    const [br, bz] = typeof expected === 'number' ? [0, expected] : [expected.Brho_uT, expected.Bz_uT];
    expect(Math.abs(1e6 * b[0]! - br)).toBeLessThan(1e-6 * Math.abs(bz) + 1e-7);
    expect(Math.abs(1e6 * b[2]! - bz)).toBeLessThan(1e-6 * Math.abs(bz));
  });

  it('square-centre', () => {
    const h = 0.05;
    const corners = [
      [-h, -h],
      [h, -h],
      [h, h],
      [-h, h],
    ] as const;
    const pieces = corners.map(([x0, y0], k) => {
      const [x1, y1] = corners[(k + 1) % 4]!;
      return { kind: 'line' as const, x0, y0, x1, y1 };
    });
    const winding = { ...coil1, turns: [{ pieces, z: 0, weight: 1 }], halfWidth: h, halfHeight: h };
    const model = createFieldModel({ winding, ...bare }, { winding: coil2, ...bare });
    expect(1e6 * model.fieldAt(far, 1, 0, new Float64Array(3))[2]!).toBeCloseTo(11.313708499, 5);
  });
});

describe('field with plates', () => {
  const transmitter = { winding: coil1, ferrite: disc(25e-3, 1e-3, 700, 0.5e-3), metal: null };
  const receiver = { winding: coil2, ferrite: disc(21e-3, 0.8e-3, 700, 0.3e-3), metal: null };
  const model = createFieldModel(transmitter, receiver);
  const at = pose(distanceOf(5), 0.002);
  const view = model.fieldView(at, 1, 0);
  const b = new Float64Array(3);

  it('has the flux through the receiver that its mutual inductance says', () => {
    // Flux of B through the receiver's turns by rings and angles: shares nothing with the charges' energy.
    const { dM } = model.solve(at);
    const air = createFieldModel({ winding: coil1, ...bare }, { winding: coil2, ...bare }).fieldView(at, 1, 0);
    let flux = 0;
    const angles = 24;
    for (const turn of coil2.turns) {
      const radius = turn.pieces[0]!.kind === 'arc' ? turn.pieces[0]!.radius : 0;
      const rings = 12;
      for (let i = 0; i < rings; i++) {
        const rho = (radius * (i + 0.5)) / rings;
        for (let k = 0; k < angles; k++) {
          const angle = (2 * Math.PI * (k + 0.5)) / angles;
          const x = 0.002 + rho * Math.cos(angle);
          const y = rho * Math.sin(angle);
          const with_ = view.at(x, y, at.z, b)[2]!;
          const without = air.at(x, y, at.z, b)[2]!;
          flux += ((with_ - without) * rho * radius * 2 * Math.PI) / rings / angles;
        }
      }
    }
    expect(Math.abs(flux / dM - 1)).toBeLessThan(0.01);
  });

  it('falls off as a dipole far away', () => {
    const near = view.at(0, 0, 0.4, b)[2]!;
    const distant = view.at(0, 0, 0.8, b)[2]!;
    expect(near / distant).toBeGreaterThan(7.4);
    expect(near / distant).toBeLessThan(8.6);
  });

  it('carries through the middle of the ferrite the flux that enters it', () => {
    const cells = view.plateFlux('transmitter')!;
    expect(cells.largest).toBeGreaterThan(1e-4);
    expect(cells.largest).toBeLessThan(1e-2);
    // The coil's flux leaves the inner half of the plate and returns outside: radial flux changes sign with the current.
    const back = model.fieldView(at, -1, 0).plateFlux('transmitter')!;
    expect(back.largest).toBeCloseTo(cells.largest, 12);
    expect(back.density[0]!).toBeCloseTo(-cells.density[0]!, 12);
  });
});

describe('field across the turns', () => {
  it('is that of the mirror image over a large plate of high permeability', () => {
    // Image in a half-space, factor (mu - 1) / (mu + 1) = 1 (published set: image-factor); a big disc stands for it.
    const pieces = [{ kind: 'arc' as const, cx: 0, cy: 0, radius: 0.01, start: 0, sweep: 2 * Math.PI }];
    const winding = { ...coil1, turns: [{ pieces, z: 0, weight: 1 }], halfWidth: 0.01, halfHeight: 0.01 };
    const height = 2e-3;
    const ferrite = disc(0.04, 5e-3, 5000, height - winding.halfThickness);
    const model = createFieldModel({ winding, ferrite, metal: null }, { winding: coil2, ...bare });
    const [turn] = model.transverseField('transmitter');
    // Image loop twice the height below: Biot-Savart by 2000 chords at the turn itself.
    let hr = 0;
    let hz = 0;
    const n = 2000;
    for (let k = 0; k < n; k++) {
      const t = (2 * Math.PI * (k + 0.5)) / n;
      const rx = 0.01 - 0.01 * Math.cos(t);
      const ry = -0.01 * Math.sin(t);
      const rz = 2 * height;
      const s = (0.01 * 2 * Math.PI) / n / (4 * Math.PI * Math.hypot(rx, ry, rz) ** 3);
      hr += s * Math.cos(t) * rz;
      hz += s * (-Math.sin(t) * ry - Math.cos(t) * rx);
    }
    expect(Math.abs(turn!.across / Math.hypot(hr, hz) - 1)).toBeLessThan(0.05);
    expect(MU0).toBeGreaterThan(0);
  });
});
