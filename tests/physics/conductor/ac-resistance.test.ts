import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { InputError } from '../../../src/numerics/errors.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import { acResistance, dcResistance } from '../../../src/physics/conductor/ac-resistance.ts';
import { windingFields } from '../../../src/physics/conductor/winding-fields.ts';
import { litz, RECEIVER, rings, solid, TRANSMITTER, trace } from '../coil/coils.ts';

const transmitter = windCoil(TRANSMITTER);

describe('DC', () => {
  test('length over strand copper, warmed by 0.393 % per kelvin', () => {
    const area = (105 * Math.PI * 0.08e-3 ** 2) / 4;
    expect(dcResistance(transmitter, 20)).toBeCloseTo(transmitter.wireLength / (58e6 * area), 12);
    expect(dcResistance(transmitter, 60) / dcResistance(transmitter, 20)).toBeCloseTo(1 + 40 * 3.93e-3, 12);
  });

  test('filars run in parallel', () => {
    const bifilar = windCoil({ ...TRANSMITTER, turns: 5, filars: 2 });
    expect(dcResistance(bifilar, 20) / dcResistance(transmitter, 20)).toBeCloseTo(0.25, 12);
    expect(acResistance(bifilar, 1.5e5, 20).total / acResistance(transmitter, 1.5e5, 20).total).toBeCloseTo(0.25, 9);
  });
});

describe('AC', () => {
  test('parts add up; nothing is added at 0 Hz; all are positive', () => {
    for (const coil of [
      transmitter,
      windCoil(RECEIVER),
      rings(20e-3, 12e-3, 5, solid(0.8e-3)),
      rings(20e-3, 12e-3, 5, trace(1e-3)),
    ]) {
      const ac = acResistance(coil, 1.3e5, 25);
      expect(ac.total).toBeCloseTo(ac.dc + ac.skin + ac.bundle + ac.proximity, 15);
      expect(Math.min(ac.skin, ac.proximity)).toBeGreaterThan(0);
      expect(acResistance(coil, 0, 25).total).toBeCloseTo(dcResistance(coil, 25), 15);
      expect(ac.valid).toBe(true);
    }
  });

  test('a lone straight-ish wire has only skin effect', () => {
    const loop = rings(0.5, 0.5, 1, solid(1e-3));
    const ac = acResistance(loop, 1e5, 20);
    expect(ac.proximity / ac.skin).toBeLessThan(1e-4);
  });

  test('resistance rises with frequency; warm copper loses more at DC and less to eddies (seed 51)', () => {
    const fields = windingFields(transmitter);
    fc.assert(
      fc.property(fc.double({ min: 1e4, max: 3e5, noNaN: true }), (frequency) => {
        const at = (f: number, celsius: number) => acResistance(transmitter, f, celsius, { fields });
        expect(at(frequency * 1.1, 20).total).toBeGreaterThan(at(frequency, 20).total);
        expect(at(frequency, 80).proximity).toBeLessThan(at(frequency, 20).proximity);
        expect(at(frequency, 80).dc).toBeGreaterThan(at(frequency, 20).dc);
      }),
      { seed: 51, numRuns: 30 },
    );
  });

  test('scaling all lengths by s and frequency by 1 / s^2 scales resistance by 1 / s', () => {
    const coil = (s: number) => rings(20e-3 * s, 12e-3 * s, 6, solid(0.9e-3 * s));
    expect((acResistance(coil(2), 1e5 / 4, 20).total * 2) / acResistance(coil(1), 1e5, 20).total).toBeCloseTo(1, 6);
  });

  test('a field that is given replaces the computed one', () => {
    const squares = new Float64Array(10).fill(1e5);
    const ac = acResistance(transmitter, 1e5, 20, { transverseFieldSquared: squares });
    const double = acResistance(transmitter, 1e5, 20, { transverseFieldSquared: squares.map((value) => 2 * value) });
    expect(double.proximity / ac.proximity).toBeCloseTo(2, 12);
    const { meanSquare } = windingFields(transmitter);
    expect(acResistance(transmitter, 1e5, 20, { transverseFieldSquared: meanSquare }).total).toBeCloseTo(
      acResistance(transmitter, 1e5, 20).total,
      9,
    );
    expect(() => acResistance(transmitter, 1e5, 20, { transverseFieldSquared: new Float64Array(3) })).toThrow(
      InputError,
    );
    expect(() => acResistance(transmitter, -1, 20)).toThrow(InputError);
  });

  test("a field from outside adds as a vector: opposed to the winding's own it can lower the loss", () => {
    const plain = acResistance(transmitter, 1e5, 20).proximity;
    const along = (sign: number) =>
      acResistance(transmitter, 1e5, 20, {
        externalField: (_x, _y, _z, out) => {
          out.set([0, 0, sign * 200]);
        },
      }).proximity;
    expect(along(1) + along(-1) - 2 * plain).toBeGreaterThan(0);
    expect(Math.min(along(1), along(-1))).toBeLessThan(plain);
  });

  test('thick strands are flagged', () => {
    const coarse = windCoil({
      ...TRANSMITTER,
      conductor: { kind: 'litz', strands: 3, strandDiameter: 0.45e-3, bundleDiameter: 1.1e-3 },
    });
    expect(acResistance(coarse, 2e5, 20).valid).toBe(false);
    expect(acResistance(windCoil({ ...TRANSMITTER, conductor: litz(105, 1.1e-3) }), 2e5, 20).valid).toBe(true);
  });
});
