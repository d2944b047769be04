/** A complex number as [re, im]. */
export type Complex = readonly [number, number];

/**
 * Ratios of neighbouring Bessel functions of the first kind at a complex argument: J1(z)/J0(z) and J2(z)/J1(z).
 * Skin and proximity effect need nothing else, and ratios neither overflow nor cancel.
 *
 * @param re real part of z
 * @param im imaginary part of z
 * Valid for |z| up to about 1e5 (time grows with |z|) away from the real zeros of J0 and J1; z = 0 gives zeros.
 * Accuracy: 4e-15 relative on arg z = -pi/4 for 1e-6 <= |z| <= 1000 (reference-cases/bessel-ratio).
 * Method: backward recurrence r(v) = 1 / (2 (v + 1) / z - r(v + 1)) from an order well above |z|.
 * Source: Abramowitz and Stegun (1964) 9.1.27 and 9.1.73 (from memory).
 */
export function besselRatios(re: number, im: number): { j1OverJ0: Complex; j2OverJ1: Complex } {
  const size = Math.hypot(re, im);
  if (size === 0) return { j1OverJ0: [0, 0], j2OverJ1: [0, 0] };
  const inverseRe = re / (size * size);
  const inverseIm = -im / (size * size);
  let ratioRe = 0;
  let ratioIm = 0;
  let upper: Complex = [0, 0];
  for (let order = Math.ceil(1.2 * size + 12 * Math.cbrt(size)) + 25; order >= 0; order--) {
    upper = [ratioRe, ratioIm];
    const denominatorRe = 2 * (order + 1) * inverseRe - ratioRe;
    const denominatorIm = 2 * (order + 1) * inverseIm - ratioIm;
    const norm = denominatorRe * denominatorRe + denominatorIm * denominatorIm;
    ratioRe = denominatorRe / norm;
    ratioIm = -denominatorIm / norm;
  }
  return { j1OverJ0: [ratioRe, ratioIm], j2OverJ1: upper };
}
