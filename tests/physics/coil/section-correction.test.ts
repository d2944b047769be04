import { describe, expect, test } from 'vitest';
import { coaxialMutualInductance, roundRingPair, stripRingPair } from '../../../src/physics/coil/coaxial-circles.ts';
import { crossSectionOf } from '../../../src/physics/coil/cross-section.ts';
import { logStripMeanDistance } from '../../../src/physics/coil/mean-distance.ts';
import { sectionCorrection } from '../../../src/physics/coil/section-correction.ts';
import { polygon, rectanglePoints, rings, solid, trace } from './coils.ts';

describe('sectionCorrection', () => {
  test("round wire: for circles it is the ring pairs' term", () => {
    const coil = rings(20e-3, 18e-3, 2, solid(1.5e-3));
    const exact = 2 * (roundRingPair(20e-3, 18e-3, 0, 0.75e-3) - coaxialMutualInductance(20e-3, 18e-3, 0));
    const got = sectionCorrection(coil, crossSectionOf(coil.spec.conductor, 1), false);
    expect(got.value / exact).toBeCloseTo(1, 2);
  });

  test('round wire with straight sides only needs none', () => {
    const coil = polygon(rectanglePoints(40e-3, 30e-3), 3, 1.1e-3, solid(1e-3));
    expect(sectionCorrection(coil, crossSectionOf(coil.spec.conductor, 1), false).value).toBe(0);
  });

  test('flat strips: mean distance in the place of distance, side by side', () => {
    const [width, pitch] = [2e-3, 2.2e-3];
    const coil = polygon(rectanglePoints(200e-3, 160e-3), 2, pitch, trace(width));
    const perMetre = -2e-7 * (logStripMeanDistance(width, pitch, 0) - Math.log(pitch));
    // Each side's length seen from the other turn is that of the inner one, but for the corners.
    const length = 2 * (200e-3 + 160e-3) - 8 * (pitch / 2);
    const got = sectionCorrection(coil, crossSectionOf(coil.spec.conductor, 1), false);
    expect(got.value / (2 * perMetre * length)).toBeCloseTo(1, 2);
  });

  test("flat rings: curvature aside it is the strips' mean", () => {
    const coil = rings(20e-3, 18.5e-3, 2, trace(1.4e-3));
    const exact = 2 * (stripRingPair(20e-3, 18.5e-3, 0, 1.4e-3, 35e-6) - coaxialMutualInductance(20e-3, 18.5e-3, 0));
    const got = sectionCorrection(coil, crossSectionOf(coil.spec.conductor, 1), false);
    expect(Math.abs(got.value - exact)).toBeLessThan(got.errorEstimate);
  });
});
