/**
 * Complete elliptic integrals in Bulirsch's form. They stay accurate where the classical K, E and Pi cancel against
 * each other, which is what the fields of discs and cylinders need on their axis and next to their edges.
 *
 * Source: R. Bulirsch, "Numerical calculation of elliptic integrals and elliptic functions III",
 * Numer. Math. 13 (1969) 305-315 (from memory); the same function is DLMF 19.2.11.
 */

/** Iteration ends when the two means agree to this; the error left is its square. */
const AGREEMENT = 1e-8;

/**
 * Integral from 0 to pi/2 of (a cos^2 + b sin^2) / ((cos^2 + p sin^2) sqrt(cos^2 + kc^2 sin^2)).
 * @param kc complementary modulus, dimensionless, not 0. @param p not 0; negative gives the Cauchy principal value.
 * @returns the integral; NaN where an argument is NaN, Infinity for kc = 0 unless b = 0.
 *
 * Accuracy: 2e-15 relative against 30-digit quadrature for kc from 1e-10 to 1e3 (tests/numerics/bulirsch.test.ts).
 */
export function bulirschCel(kc: number, p: number, a: number, b: number): number {
  if (kc === 0) return b === 0 && p > 0 ? a : Number.POSITIVE_INFINITY;
  let k = Math.abs(kc);
  let em = 1;
  let pp: number;
  let cc: number;
  let ss: number;
  if (p > 0) {
    pp = Math.sqrt(p);
    cc = a;
    ss = b / pp;
  } else {
    const f = kc * kc - p;
    const g = 1 - p;
    const q = (1 - kc * kc) * (b - a * p);
    pp = Math.sqrt(f / g);
    cc = (a - b) / g;
    ss = -q / (g * g * pp) + cc * pp;
  }
  let f = cc;
  cc += ss / pp;
  let g = k / pp;
  ss = 2 * (ss + f * g);
  pp += g;
  g = em;
  em += k;
  let kk = k;
  for (let i = 0; i < 60 && Math.abs(g - k) > g * AGREEMENT; i += 1) {
    k = 2 * Math.sqrt(kk);
    kk = k * em;
    f = cc;
    cc += ss / pp;
    g = kk / pp;
    ss = 2 * (ss + f * g);
    pp += g;
    g = em;
    em += k;
  }
  return ((Math.PI / 2) * (ss + cc * em)) / (em * (em + pp));
}

/**
 * The two integrals from 0 to pi/2 of cos^2 / D^3 and sin^2 / D^3 with D^2 = cos^2 + kc^2 sin^2, in one pass.
 * They are `bulirschCel(kc, kc^2, 1, 0)` and `bulirschCel(kc, kc^2, 0, 1)`.
 * @param kc complementary modulus, > 0. @param out receives the two values.
 */
export function cubedPair(kc: number, out: Float64Array): Float64Array {
  let k = kc;
  let em = 1;
  let pp = kc;
  // First column: a = 1, b = 0. Second: a = 0, b = 1. The first descent step is written out.
  let c1 = 1;
  let s1 = 2;
  let s2 = 1 / pp;
  let c2 = s2 / pp;
  s2 *= 2;
  pp += 1;
  let g = em;
  em += k;
  let kk = k;
  for (let i = 0; i < 60 && Math.abs(g - k) > g * AGREEMENT; i += 1) {
    k = 2 * Math.sqrt(kk);
    kk = k * em;
    const r = 1 / pp;
    g = kk * r;
    const f1 = c1;
    const f2 = c2;
    c1 += s1 * r;
    c2 += s2 * r;
    s1 = 2 * (s1 + f1 * g);
    s2 = 2 * (s2 + f2 * g);
    pp += g;
    g = em;
    em += k;
  }
  const scale = Math.PI / 2 / (em * (em + pp));
  out[0] = scale * (s1 + c1 * em);
  out[1] = scale * (s2 + c2 * em);
  return out;
}
