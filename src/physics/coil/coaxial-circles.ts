import { ellipticEFromComplement, ellipticHalfDifference, ellipticKFromComplement } from '../../numerics/elliptic.ts';
import { gaussLegendre } from '../../numerics/gauss-legendre.ts';
import { MU0 } from '../constants.ts';
import { logRectangleMeanDistance, logStripMeanDistance } from './mean-distance.ts';

/**
 * Mutual inductance of two coaxial circular filaments, H.
 *
 * @param radiusA metres, above 0
 * @param radiusB metres, above 0
 * @param distance between their planes, m; Infinity comes back for equal circles at 0
 * Accuracy: 2e-15 relative (reference-cases/coaxial-circles).
 * Method: M = mu0 Q [(1 - m/2) K(m) - E(m)], Q^2 = (a + b)^2 + d^2, m = 4 a b / Q^2.
 * Source: Maxwell, Treatise vol. 2 art. 701; Rosa and Grover (1912) eq. 1, in the form without cancellation.
 */
export function coaxialMutualInductance(radiusA: number, radiusB: number, distance: number): number {
  const sum2 = (radiusA + radiusB) ** 2 + distance * distance;
  const difference2 = (radiusA - radiusB) ** 2 + distance * distance;
  return MU0 * Math.sqrt(sum2) * ellipticHalfDifference((4 * radiusA * radiusB) / sum2, difference2 / sum2);
}

/** Axial flux density of a circular filament of radius `loop` at radius `rho` and height `height`, T per ampere. */
export function circleAxialField(loop: number, rho: number, height: number): number {
  const sum2 = (loop + rho) ** 2 + height * height;
  const difference2 = (loop - rho) ** 2 + height * height;
  const m1 = difference2 / sum2;
  const inner = ((loop * loop - rho * rho - height * height) / difference2) * ellipticEFromComplement(m1);
  return (MU0 / (2 * Math.PI * Math.sqrt(sum2))) * (ellipticKFromComplement(m1) + inner);
}

/**
 * Mutual inductance of two coaxial rings of round wire with even current, H: the filaments' value and the first
 * correction for the sections, (a^2/8)(1/r) dM/dr from each ring; the next term is of order (a/r)^2 (a/d)^2 smaller.
 */
export function roundRingPair(radiusA: number, radiusB: number, distance: number, wireRadius: number): number {
  const field = circleAxialField(radiusA, radiusB, distance) + circleAxialField(radiusB, radiusA, distance);
  return coaxialMutualInductance(radiusA, radiusB, distance) + (Math.PI / 4) * wireRadius ** 2 * field;
}

/**
 * Self-inductance of a ring of round wire, H.
 *
 * @param internalShare internal inductance relative to that of even current (1: low frequency, 0: current on the skin)
 * Valid for wireRadius below about radius / 4. Accuracy: terms of order (a/R)^4 left out.
 * Source: Rosa and Grover (1912), circular ring of circular section, even current density.
 */
export function roundRingSelf(radius: number, wireRadius: number, internalShare: number): number {
  const q = (wireRadius / radius) ** 2;
  return MU0 * radius * ((1 + q / 8) * Math.log((8 * radius) / wireRadius) + q / 24 - 2 + internalShare / 4);
}

/**
 * Mutual inductance of two coaxial flat rings of equal width with even current, H; the same ring twice gives its
 * self-inductance, for which the thickness counts too.
 *
 * Method: the filaments' value plus mu0 (r + r')/2 ln(distance) is smooth across the strips and averaged by six-point
 * Gauss rules; the logarithm's mean is closed-form.
 * Accuracy: 2e-6 relative for widths up to a fifth of the radius, 1e-5 up to two thirds, touching rings included
 * (tests/physics/coil/coaxial-circles.test.ts).
 */
export function stripRingPair(
  radiusA: number,
  radiusB: number,
  distance: number,
  width: number,
  thickness: number,
): number {
  const { nodes, weights } = gaussLegendre(6);
  let mean = 0;
  for (let i = 0; i < 6; i++) {
    const a = radiusA + (nodes[i] * width) / 2;
    for (let j = 0; j < 6; j++) {
      const b = radiusB + (nodes[j] * width) / 2;
      const apart = Math.hypot(a - b, distance);
      const smooth =
        apart < 1e-9 * a
          ? MU0 * a * (Math.log(8 * a) - 2)
          : coaxialMutualInductance(a, b, distance) + ((MU0 * (a + b)) / 2) * Math.log(apart);
      mean += (weights[i] * weights[j] * smooth) / 4;
    }
  }
  const itself = radiusA === radiusB && distance === 0;
  const logMean = itself
    ? logRectangleMeanDistance(width, thickness)
    : logStripMeanDistance(width, radiusA - radiusB, distance);
  return mean - ((MU0 * (radiusA + radiusB)) / 2) * logMean;
}
