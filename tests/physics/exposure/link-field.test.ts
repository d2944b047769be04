import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { ellipticEFromComplement, ellipticKFromComplement } from '../../../src/numerics/elliptic.ts';
import type { Winding } from '../../../src/physics/coil/types.ts';
import { airFields, rmsField } from '../../../src/physics/exposure/link-field.ts';
import { coil1, coil2, pose } from '../field/fixtures.ts';

const MU0 = 4e-7 * Math.PI;

function loop(radius: number, turns = 1): Winding {
  const pieces = [{ kind: 'arc' as const, cx: 0, cy: 0, radius, start: 0, sweep: 2 * Math.PI }];
  return { ...coil1, turns: [{ pieces, z: 0, weight: turns }], halfWidth: radius, halfHeight: radius };
}

const far = pose(50);
const one = (i: number) => ({ transmitterA: i, receiverA: 0, correlation: 0 });

describe('a loop', () => {
  test('on its axis: mu0 I a^2 / 2 (a^2 + z^2)^1.5, textbook closed form', () => {
    const fields = airFields(loop(0.03), coil2, far);
    for (const z of [0, 0.01, 0.1, 1]) {
      const wanted = (MU0 * 2.5 * 0.03 ** 2) / (2 * (0.03 ** 2 + z * z) ** 1.5);
      expect(rmsField(fields, one(2.5), 0, 0, z).rmsT / wanted).toBeCloseTo(1, 9);
    }
  });

  test('published values on and off the axis (reference-cases/filament-field)', () => {
    const url = new URL('../../../reference-cases/filament-field/cases.json', import.meta.url);
    const sets = JSON.parse(readFileSync(url, 'utf8')) as {
      regions: { rows: { inputs: Record<string, number>; expected: number | Record<string, number> }[] }[];
    }[];
    let rows = 0;
    for (const { inputs, expected } of sets.flatMap((set) => set.regions.flatMap((region) => region.rows))) {
      if (inputs.a_m === undefined || inputs.z_m === undefined) continue;
      const fields = airFields(loop(inputs.a_m), coil2, far);
      const b = rmsField(fields, one(inputs.I_A ?? 1), inputs.rho_m ?? 0, 0, inputs.z_m).rmsT * 1e6;
      const wanted = typeof expected === 'number' ? expected : Math.hypot(...Object.values(expected));
      expect(b / wanted).toBeCloseTo(1, 6);
      rows++;
    }
    expect(rows).toBeGreaterThan(3);
  });

  test('off its axis: both components by elliptic integrals in another form than the code uses', () => {
    // J. D. Jackson, Classical Electrodynamics, 5.5, and Smythe 7.10 (from memory), with parameter m and K, E directly.
    const a = 0.022;
    const fields = airFields(loop(a), coil2, far);
    const b = new Float64Array(3);
    for (const [rho, z] of [
      [0.01, 0.004],
      [0.03, 0.05],
      [0.2, 0.1],
      [0.0215, 0.0005],
    ] as const) {
      const alpha2 = a * a + rho * rho + z * z - 2 * a * rho;
      const beta2 = a * a + rho * rho + z * z + 2 * a * rho;
      const m1 = alpha2 / beta2;
      const k = ellipticKFromComplement(m1);
      const e = ellipticEFromComplement(m1);
      const c = MU0 / Math.PI;
      const bz = (c / (2 * alpha2 * Math.sqrt(beta2))) * ((a * a - rho * rho - z * z) * e + alpha2 * k);
      const br = ((c * z) / (2 * alpha2 * Math.sqrt(beta2) * rho)) * ((a * a + rho * rho + z * z) * e - alpha2 * k);
      fields.transmitter(0, rho, z, b);
      expect(b[2]! / bz).toBeCloseTo(1, 8);
      expect(b[1]! / br).toBeCloseTo(1, 6);
      expect(rmsField(fields, one(1), 0, rho, z).rmsT / Math.hypot(br, bz)).toBeCloseTo(1, 7);
    }
  });

  /**
   * H. D. Young, R. A. Freedman, University Physics, ch. 28, worked example of a coil of 100 loops of 0.60 m radius at 5.0 A
   * (from memory): 1.1e-4 T at 0.80 m along the axis, and an eighth of the centre's field at 1.04 m.
   */
  test('a published worked example of a coil', () => {
    const fields = airFields(loop(0.6, 100), coil2, far);
    expect(rmsField(fields, one(5), 0, 0, 0.8).rmsT).toBeCloseTo(1.1e-4, 5);
    const ratio = rmsField(fields, one(5), 0, 0, 1.04).rmsT / rmsField(fields, one(5), 0, 0, 0).rmsT;
    expect(ratio).toBeCloseTo(1 / 8, 3);
  });

  test('far away it is a dipole: mu0 m / 2 pi r^3 along the axis, half of it across, and any real coil alike', () => {
    const moment = coil1.turns.reduce(
      (sum, { pieces, weight }) => sum + (pieces[0]!.kind === 'arc' ? Math.PI * pieces[0]!.radius ** 2 * weight : 0),
      0,
    );
    const fields = airFields(coil1, coil2, pose(50));
    const r = 3;
    const axial = (MU0 * moment) / (2 * Math.PI * r ** 3);
    expect(rmsField(fields, one(1), 0, 0, r).rmsT / axial).toBeCloseTo(1, 3);
    expect(rmsField(fields, one(1), r, 0, 0).rmsT / (axial / 2)).toBeCloseTo(1, 3);
  });
});

describe('two coils', () => {
  const at = { ...pose(0.0075, 0.004), yaw: 0.4, tiltX: 0.05, tiltY: -0.03 };
  const fields = airFields(coil1, coil2, at);

  test('superpose: the square is that of the instantaneous sum over a period, for any phase and any harmonics', () => {
    const b1 = new Float64Array(3);
    const b2 = new Float64Array(3);
    fields.transmitter(0.01, -0.02, 0.03, b1);
    fields.receiver(0.01, -0.02, 0.03, b2);
    const steps = 240;
    let s11 = 0;
    let s12 = 0;
    let s22 = 0;
    let square = 0;
    for (let i = 0; i < steps; i++) {
      const t = (2 * Math.PI * i) / steps;
      const i1 = 2 * Math.sin(t) + 0.3 * Math.cos(3 * t);
      const i2 = 1.2 * Math.sin(t + 1.1) - 0.2 * Math.sin(5 * t + 0.4) + 0.1 * Math.cos(3 * t);
      s11 += i1 * i1;
      s12 += i1 * i2;
      s22 += i2 * i2;
      for (let k = 0; k < 3; k++) square += (i1 * b1[k]! + i2 * b2[k]!) ** 2;
    }
    const currents = {
      transmitterA: Math.sqrt(s11 / steps),
      receiverA: Math.sqrt(s22 / steps),
      correlation: s12 / Math.sqrt(s11 * s22),
    };
    const seen = rmsField(fields, currents, 0.01, -0.02, 0.03);
    expect(seen.rmsT / Math.sqrt(square / steps)).toBeCloseTo(1, 12);
    expect(seen.rmsT).toBeLessThanOrEqual(seen.transmitterT + seen.receiverT);
    expect(seen.rmsT).toBeGreaterThanOrEqual(Math.abs(seen.transmitterT - seen.receiverT));
  });

  test('reciprocity: the coils exchanged and the pose inverted give the same field at the same place', () => {
    const flat = pose(0.02, 0.006, -0.003);
    const here = airFields(coil1, coil2, flat);
    const there = airFields(coil2, coil1, pose(-0.02, -0.006, 0.003));
    const currents = { transmitterA: 1.3, receiverA: 0.7, correlation: -0.2 };
    const turned = { transmitterA: 0.7, receiverA: 1.3, correlation: -0.2 };
    for (const [x, y, z] of [
      [0.05, 0.01, 0.04],
      [-0.03, 0.02, -0.02],
    ] as const) {
      const a = rmsField(here, currents, x, y, z).rmsT;
      const b = rmsField(there, turned, x - flat.x, y - flat.y, z - flat.z).rmsT;
      expect(b / a).toBeCloseTo(1, 6);
    }
  });
});
