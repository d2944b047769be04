import { besselRatios } from '../../numerics/bessel-ratio.ts';
import { MU0 } from '../constants.ts';

/** Depth at which a plane field has fallen to 1/e, m. Zero frequency gives Infinity. */
export function skinDepth(resistivity: number, frequency: number): number {
  return Math.sqrt(resistivity / (Math.PI * frequency * MU0));
}

/** What a round wire of uniform material does at one frequency, each relative to its low-frequency limit. */
export interface RoundWireFactors {
  /** Resistance over DC resistance of the wire alone (skin effect). */
  readonly resistance: number;
  /** Internal inductance over mu0 / 8 pi per metre. */
  readonly internalInductance: number;
  /** Eddy loss in a uniform transverse field over its low-frequency law, pi sigma omega^2 B^2 d^4 / 128 for peak B. */
  readonly transverse: number;
}

/**
 * Skin and proximity factors of a round wire.
 *
 * @param diameter metres, above 0
 * @param depth skin depth, m; Infinity gives ones
 * Accuracy: 1e-12 relative for diameter / depth up to 700 (reference-cases/skin-proximity and bessel-ratio).
 * Method: with z = (1 - j) a / depth: resistance and internal reactance are real and imaginary part of z J0 / (2 J1);
 * the transverse loss is the imaginary part of J2 / J0. Below |z| = 0.03 the leading terms of their series.
 * Source: Rosa and Grover (1912); Ferreira, IEEE Trans. Power Electron. 9 (1994) 127; re-derived.
 */
export function roundWireFactors(diameter: number, depth: number): RoundWireFactors {
  const x2 = diameter ** 2 / (2 * depth ** 2);
  // Series to x^4: the ratios lose digits below, and the next terms are under 1e-14 here.
  if (x2 < 1e-3) {
    const x4 = x2 * x2;
    return { resistance: 1 + x4 / 192, internalInductance: 1 - x4 / 384, transverse: 1 - (11 * x4) / 384 };
  }
  const side = Math.sqrt(x2 / 2);
  const [aRe, aIm, bRe, bIm] = besselRatios(side, -side, 2);
  const norm = aRe * aRe + aIm * aIm;
  return {
    resistance: ((side / 2) * (aRe - aIm)) / norm,
    internalInductance: (4 * side * (-aRe - aIm)) / norm / x2,
    transverse: (-8 * (aRe * bIm + aIm * bRe)) / x2,
  };
}

/**
 * How a solid round wire answers transverse multipole fields: an outside potential c r^n e^(i n angle) is met by
 * c a^(2n) beta_n r^-n e^(i n angle), beta_n = J(n+1, z) / J(n-1, z); -1 for a perfect conductor.
 *
 * @param orders how many n, from 1
 * @returns [orders, 2] row-major, re im of beta_n
 * Source: cylinder in a harmonic field, continuity of potential and its slope; derived here.
 */
export function multipoleAnswers(diameter: number, depth: number, orders: number): Float64Array {
  const side = diameter / (2 * depth);
  const r = besselRatios(side, -side, orders + 1);
  const out = new Float64Array(2 * orders);
  for (let n = 1; n <= orders; n++) {
    const k = 2 * (n - 1);
    out[k] = r[k] * r[k + 2] - r[k + 1] * r[k + 3];
    out[k + 1] = r[k] * r[k + 3] + r[k + 1] * r[k + 2];
  }
  return out;
}
