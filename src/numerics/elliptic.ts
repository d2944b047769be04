/** Complete elliptic integrals by the arithmetic-geometric mean. `m` is the parameter (modulus squared), `m1` = 1 - m. */

/**
 * Complete elliptic integral of the first kind K(m), from the complementary parameter.
 *
 * @param m1 1 - m, above 0. Returns Infinity at 0, NaN below. Values above 1 (negative m) are allowed.
 * Accuracy: 1e-15 relative for 1e-300 <= m1 <= 1e6 (reference-cases/elliptic).
 * Source: DLMF 19.8.1 and 19.8.5 (from memory).
 */
export function ellipticKFromComplement(m1: number): number {
  if (!(m1 >= 0)) return Number.NaN;
  let a = 1;
  let b = Math.sqrt(m1);
  if (b === 0) return Number.POSITIVE_INFINITY;
  while (Math.abs(a - b) > 1e-8 * a) {
    const mean = (a + b) / 2;
    b = Math.sqrt(a * b);
    a = mean;
  }
  return Math.PI / (a + b);
}

/**
 * Complete elliptic integral of the second kind E(m), from the complementary parameter.
 *
 * @param m1 1 - m, from 0 to 1 (NaN outside)
 * Accuracy: 2e-15 relative for m1 >= 1e-3, 1e-14 down to 1e-12 (reference-cases/elliptic). Method: E = K (1 - m/2 - sum 2^(n-1) c_n^2), n >= 1.
 * Source: DLMF 19.8.6 (from memory).
 */
export function ellipticEFromComplement(m1: number): number {
  if (!(m1 >= 0 && m1 <= 1)) return Number.NaN;
  if (m1 === 0) return 1;
  const m = 1 - m1;
  return (1 - m / 2) * ellipticKFromComplement(m1) - ellipticHalfDifference(m, m1);
}

/**
 * (1 - m/2) K(m) - E(m), the combination that two circles and a circle's vector potential need. All terms are positive,
 * so nothing cancels: for small m the plain difference would lose all digits.
 *
 * @param m parameter, 0 <= m < 1
 * @param m1 1 - m, given apart so that both ends keep their digits
 * @returns 0 at m = 0, Infinity at m1 = 0
 * Accuracy: 1e-15 relative (reference-cases/elliptic).
 * Method: arithmetic-geometric mean; K times sum over n >= 1 of 2^(n-1) c_n^2 with c_(n+1) = c_n^2 / (4 a_(n+1)).
 */
export function ellipticHalfDifference(m: number, m1: number): number {
  let b = Math.sqrt(m1);
  if (b === 0) return Number.POSITIVE_INFINITY;
  let a = (1 + b) / 2;
  let c = m / (4 * a);
  b = Math.sqrt(b);
  let sum = c * c;
  let power = 1;
  while (c > 1e-8 * a) {
    const mean = (a + b) / 2;
    b = Math.sqrt(a * b);
    a = mean;
    c = (c * c) / (4 * a);
    power *= 2;
    sum += power * c * c;
  }
  return (Math.PI / (a + b)) * sum;
}
