import { complementaryErrorFunction } from './normal-distribution.ts';

/** Logarithm of the gamma function at a whole or half-whole number, x > 0: product down to 1/2 or 1. */
function logGammaHalf(x: number): number {
  let sum = 0;
  let at = x;
  while (at > 1.25) {
    at -= 1;
    sum += Math.log(at);
  }
  return at < 0.75 ? sum + 0.5 * Math.log(Math.PI) : sum;
}

/**
 * Probability that a chi-square variable exceeds a value.
 *
 * @param value >= 0. @param degrees degrees of freedom, > 0; rounded to a whole number, at least 1.
 * @returns 1 at zero; NaN for NaN. Accuracy 1e-12 relative down to 1e-12 (tests).
 * Method: incomplete gamma function of half-whole order: series below order + 1, continued fraction above.
 * Source: Abramowitz and Stegun 26.4.1, 6.5.29, 6.5.31.
 */
export function chiSquareTail(value: number, degrees: number): number {
  if (Number.isNaN(value) || Number.isNaN(degrees)) return Number.NaN;
  const whole = Math.max(1, Math.round(degrees));
  if (!(value > 0)) return 1;
  const a = whole / 2;
  const x = value / 2;
  if (whole === 1) return complementaryErrorFunction(Math.sqrt(x));
  const front = Math.exp(-x + a * Math.log(x) - logGammaHalf(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let k = 1; k < 2000 && term > 1e-17 * sum; k++) {
      term *= x / (a + k);
      sum += term;
    }
    return Math.max(0, 1 - front * sum);
  }
  // Lentz's evaluation of 1/(x+1-a- 1(1-a)/(x+3-a- ...)).
  let b = x + 1 - a;
  let c = 1e300;
  let d = 1 / b;
  let h = d;
  for (let k = 1; k < 2000; k++) {
    const an = -k * (k - a);
    b += 2;
    d = 1 / (an * d + b);
    c = b + an / c;
    const factor = d * c;
    h *= factor;
    if (Math.abs(factor - 1) < 1e-15) break;
  }
  return front * h;
}
