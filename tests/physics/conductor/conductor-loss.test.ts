import { describe, expect, test } from 'vitest';
import { copperArea, copperResistivity, wireResistance } from '../../../src/physics/conductor/conductor-loss.ts';
import { litz, solid, trace } from '../coil/coils.ts';
import { expectRegion, referenceRegions } from '../coil/reference.ts';

describe('resistance per metre', () => {
  test('copper: 58 MS/m at 20 C, 0.393 % per kelvin (IEC 60028)', () => {
    expect(copperResistivity(20)).toBeCloseTo(1.7241e-8, 12);
    expect(copperResistivity(45) / copperResistivity(20)).toBeCloseTo(1.09825, 5);
  });

  // NBS Handbook 100 wire tables, ohm per metre.
  test.each(referenceRegions('skin-proximity', (id) => id.startsWith('awg')))('$name', (region) => {
    expectRegion(region, ({ inputs: { diameter_mm } }) => wireResistance(solid(diameter_mm * 1e-3), 0, 20).dc);
  });

  test('copper areas', () => {
    expect(copperArea(litz(105, 1.1e-3))).toBeCloseTo((105 * Math.PI * 0.08e-3 ** 2) / 4, 18);
    expect(copperArea(trace(1e-3, 35e-6))).toBeCloseTo(35e-9, 18);
  });

  // Sullivan (1999), RM5 design example; strands in the winding's field, mean square (N I / b)^2 / 3.
  test.each(referenceRegions('skin-proximity', (id) => id.startsWith('litz')))(
    'published litz example: $name',
    (region) => {
      expectRegion(region, ({ inputs: { turns, strands, strand_diameter_mm, f_Hz, window_breadth_mm, rho_ohm_m } }) => {
        const conductor = {
          kind: 'litz',
          strands,
          strandDiameter: strand_diameter_mm * 1e-3,
          bundleDiameter: 1e-3,
        } as const;
        // The example's resistivity is that of warm copper.
        const celsius = 20 + (rho_ohm_m * 58e6 - 1) / 3.93e-3;
        const wire = wireResistance(conductor, f_Hz, celsius);
        const square = (turns / (window_breadth_mm * 1e-3)) ** 2 / 3;
        return (wire.dc + wire.skin + wire.perSquareField * square) / wire.dc;
      });
    },
  );

  test('litz in its own field: strands at radius r see I r / 2 pi b^2', () => {
    const conductor = litz(400, 3e-3);
    const wire = wireResistance(conductor, 1e5, 20);
    // Mean of (r / 2 pi b^2)^2 over the bundle is 1 / 8 pi^2 b^2, less one strand's own part.
    const square = 1 / (8 * Math.PI ** 2 * 1.5e-3 ** 2);
    expect(wire.bundle / (wire.perSquareField * square)).toBeCloseTo(1 - 1 / 400, 12);
    expect(wireResistance({ ...conductor, strands: 1 } as typeof conductor, 1e5, 20).bundle).toBe(0);
  });

  test('eddy loss goes with the square of frequency while wires are thin', () => {
    for (const conductor of [litz(60, 0.75e-3), solid(0.1e-3), trace(1e-3, 35e-6)]) {
      const [low, high] = [1e4, 2e4].map((f) => wireResistance(conductor, f, 20).perSquareField);
      expect(high / low).toBeCloseTo(4, 3);
    }
  });
});
