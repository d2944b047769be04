import { describe, expect, test } from 'vitest';
import { besselRatios } from '../../../src/numerics/bessel-ratio.ts';
import { multipoleAnswers, roundWireFactors, skinDepth } from '../../../src/physics/conductor/round-wire.ts';
import { expectRegion, referenceRegions } from '../coil/reference.ts';

describe('published tables', () => {
  // Rosa and Grover (1912) table XXII: x = sqrt 2 a / depth.
  test.each(referenceRegions('skin-proximity', (id) => id.startsWith('skin-x')))('skin effect: $name', (region) => {
    expectRegion(region, ({ inputs: { x } }) => roundWireFactors(Math.SQRT2 * x, 1).resistance);
  });
  // Cylinder in a uniform transverse field; Ferreira (1994).
  test.each(referenceRegions('skin-proximity', (id) => id.startsWith('prox')))('proximity: $name', (region) => {
    expectRegion(region, ({ inputs: { d_over_delta } }) => roundWireFactors(d_over_delta, 1).transverse);
  });
  test.each(referenceRegions('skin-proximity', (id) => id.startsWith('skin-depth')))('$name', (region) => {
    expectRegion(region, ({ inputs: { f_Hz, rho_ohm_m } }) => skinDepth(rho_ohm_m, f_Hz) * 1e6);
  });
});

describe('limits', () => {
  test('series and ratios join smoothly', () => {
    for (const key of ['resistance', 'internalInductance', 'transverse'] as const) {
      const at = (x2: number) => roundWireFactors(Math.sqrt(2 * x2), 1)[key];
      // The internal inductance is what is left of terms 1 / x^2 larger.
      expect(Math.abs(at(1e-3 * (1 + 1e-9)) - at(1e-3 * (1 - 1e-9)))).toBeLessThan(2e-12);
    }
    expect(roundWireFactors(1, Number.POSITIVE_INFINITY)).toEqual({
      resistance: 1,
      internalInductance: 1,
      transverse: 1,
    });
  });

  test('thick wires: resistance d / 4 depth + 1/4, internal inductance 4 depth / d, loss in a shell', () => {
    // Asymptotic forms of the Kelvin functions, A&S 9.10 (from memory).
    const ratio = 400;
    const thick = roundWireFactors(ratio, 1);
    expect(thick.resistance / (ratio / 4 + 0.25)).toBeCloseTo(1, 4);
    expect(thick.internalInductance / (4 / ratio)).toBeCloseTo(1, 2);
    // Surface field 2 H over half the circumference: mean square 2 H^2 in a layer of one depth.
    expect(thick.transverse / (32 / ratio ** 3)).toBeCloseTo(1, 1);
    expect(roundWireFactors(700, 1).transverse).toBeGreaterThan(0);
  });

  test('multipole answers: dipole is J2/J0, all tend to -1 for thick wires', () => {
    const [re, im] = multipoleAnswers(3, 1, 1);
    expect((-8 * im) / (3 / Math.SQRT2) ** 2).toBeCloseTo(roundWireFactors(3, 1).transverse, 12);
    expect(re).toBeLessThan(0);
    const thick = multipoleAnswers(2000, 1, 4);
    for (let n = 0; n < 4; n++) expect(thick[2 * n]).toBeCloseTo(-1, 1);
    const ratios = besselRatios(1.5, -1.5, 3);
    const third = multipoleAnswers(3, 1, 2);
    expect(third[2]).toBeCloseTo(ratios[2] * ratios[4] - ratios[3] * ratios[5], 14);
  });
});
