/** Standard normal distribution: probability and its inverse. */

const SQRT_HALF = Math.SQRT1_2;
const INVERSE_SQRT_PI = 1 / Math.sqrt(Math.PI);

/**
 * Complementary error function. Series below 1.5, continued fraction (backward) above.
 * Accuracy: 2e-14 relative (tests/numerics/normal-distribution.test.ts). NaN gives NaN.
 * Source: Abramowitz and Stegun 7.1.5 and 7.1.14.
 */
export function complementaryErrorFunction(x: number): number {
  if (x < 0) return 2 - complementaryErrorFunction(-x);
  if (x < 1.5) {
    // erf(x) = 2/sqrt(pi) exp(-x^2) sum 2^n x^(2n+1) / (2n+1)!!, all terms positive.
    let term = x;
    let sum = x;
    for (let n = 1; n < 200 && term > 1e-17 * sum; n += 1) {
      term *= (2 * x * x) / (2 * n + 1);
      sum += term;
    }
    return 1 - 2 * INVERSE_SQRT_PI * Math.exp(-x * x) * sum;
  }
  if (!(x < 27)) return Number.isNaN(x) ? Number.NaN : 0;
  let fraction = 0;
  for (let n = x < 2.5 ? 250 : 60; n >= 1; n -= 1) fraction = n / 2 / (x + fraction);
  return (INVERSE_SQRT_PI * Math.exp(-x * x)) / (x + fraction);
}

/** Probability that a standard normal is below x. Accuracy 1e-14 absolute. */
export function normalProbability(x: number): number {
  return 0.5 * complementaryErrorFunction(-x * SQRT_HALF);
}

/**
 * The x below which a standard normal lies with probability p, 0 < p < 1; -Infinity at 0, Infinity at 1, NaN outside.
 * Accuracy: 1e-13 relative for p from 1e-300 to 0.5; above 0.5 limited by 1 - p.
 * Method: rational first guess (Abramowitz and Stegun 26.2.23), then Halley steps on `normalProbability`.
 */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) return Number.NaN;
  if (p === 0) return Number.NEGATIVE_INFINITY;
  if (p === 1) return Number.POSITIVE_INFINITY;
  if (p > 0.5) return -normalQuantile(1 - p);
  const t = Math.sqrt(-2 * Math.log(p));
  let x = -(t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308))));
  for (let step = 0; step < 4; step += 1) {
    const error = normalProbability(x) - p;
    if (error === 0) break;
    const density = Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
    if (density === 0) break;
    const newton = error / density;
    const move = newton / (1 + (x * newton) / 2);
    x -= move;
    if (Math.abs(move) < 1e-15 * Math.abs(x)) break;
  }
  return x;
}
