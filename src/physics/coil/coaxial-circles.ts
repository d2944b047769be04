import { ellipticHalfDifference } from '../../numerics/elliptic.ts';
import { MU0 } from '../constants.ts';

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
