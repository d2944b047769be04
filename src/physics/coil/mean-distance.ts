/**
 * Geometric mean distances of conductor cross-sections, metres: what replaces the distance in a filament
 * formula when the current is spread evenly over the sections.
 */

/** Geometric mean distance of a disc from itself with a share of its internal inductance (1: even current, 0: skin only). */
export function discMeanDistance(radius: number, internalShare = 1): number {
  return radius * Math.exp(-internalShare / 4);
}

/**
 * Natural logarithm of the geometric mean distance of a rectangle from itself, lengths in metres.
 * Accuracy: 1e-13 absolute for side ratios up to 1e4 (tests/physics/coil/mean-distance.test.ts).
 * Source: Maxwell, Treatise vol. 2 art. 692; Rosa and Grover (1912) eq. 124 (from memory, checked by quadrature).
 */
export function logRectangleMeanDistance(width: number, thickness: number): number {
  const a = Math.max(width, thickness);
  const b = Math.min(width, thickness);
  if (b === 0) return Math.log(a) - 1.5;
  const q = b / a;
  const q2 = q * q;
  // The large terms of a flat section, a^2/b^2 ln(1 + b^2/a^2) and (a/b) atan(b/a), are kept by log1p.
  return (
    Math.log(a) +
    Math.log1p(q2) / 2 -
    (q2 / 12) * Math.log1p(1 / q2) -
    Math.log1p(q2) / (12 * q2) +
    (2 / 3) * q * Math.atan(1 / q) +
    ((2 / 3) * Math.atan(q)) / q -
    25 / 12
  );
}

/**
 * Natural logarithm of the geometric mean distance of two parallel flat strips of equal width.
 *
 * @param width m
 * @param lateral distance between their middles across, in the strips' direction, m
 * @param height distance between their planes, m
 * Touching and overlapping strips are allowed; lateral = height = 0 gives a strip from itself, ln(width) - 3/2.
 * Accuracy: 1e-10 absolute (tests/physics/coil/mean-distance.test.ts).
 * Method: second difference of the twice-integrated logarithm; farther than ten widths by its expansion.
 */
export function logStripMeanDistance(width: number, lateral: number, height: number): number {
  const x = lateral / width;
  const z = height / width;
  const d2 = x * x + z * z;
  if (d2 > 100) {
    // Powers of 1/(x + iz): mean of ln over a triangular spread, moments 1/6, 1/15, 1/28 of the square, fourth, sixth.
    const re = (x * x - z * z) / (d2 * d2);
    const im = (-2 * x * z) / (d2 * d2);
    const re2 = re * re - im * im;
    const im2 = 2 * re * im;
    const re3 = re2 * re - im2 * im;
    return Math.log(width) + Math.log(d2) / 2 - re / 12 - re2 / 60 - re3 / 168;
  }
  const twice = (u: number): number => {
    const r2 = u * u + z * z;
    const log = r2 > 0 ? (u * u - z * z) * Math.log(r2) : 0;
    return log / 4 - 0.75 * u * u + (z > 0 ? u * z * Math.atan(u / z) : 0);
  };
  return Math.log(width) + twice(x + 1) - 2 * twice(x) + twice(x - 1);
}
