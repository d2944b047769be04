/**
 * Plane foil carrying current along one direction with the field parallel to its faces, thickness over skin depth `x`.
 * Both factors are for sinusoidal current. Source: Dowell, Proc. IEE 113 (1966) 1387, in the form of Ferreira (1994);
 * formulas from memory, checked against integrated current density (reference-cases/skin-proximity).
 */

/** Resistance over DC resistance of a single foil between equal and opposite fields: x/2 (sinh x + sin x)/(cosh x - cos x). */
export function foilSkinFactor(x: number): number {
  if (x < 0.1) return 1 + x ** 4 / 180;
  // Divided through by e^x so that thick foils do not overflow.
  const e = Math.exp(-x);
  return ((x / 2) * ((1 - e * e) / 2 + e * Math.sin(x))) / ((1 + e * e) / 2 - e * Math.cos(x));
}

/**
 * Eddy loss in a foil in a uniform field along its faces over its low-frequency law (omega mu0 H)^2 sigma t^3 / 12 per area:
 * 6 (sinh x - sin x)/(cosh x + cos x) / x^3.
 */
export function foilFieldFactor(x: number): number {
  if (x < 0.1) return 1 - (17 * x ** 4) / 420;
  const e = Math.exp(-x);
  return (6 * ((1 - e * e) / 2 - e * Math.sin(x))) / ((1 + e * e) / 2 + e * Math.cos(x)) / x ** 3;
}

/**
 * Resistance factor of `layers` full-width foil layers in series, field zero on one side (Dowell): each layer has its own
 * skin effect and lies in the mean field m - 1/2 of the layers before it, whose squares average to (4 layers^2 - 1)/12.
 * Accuracy: 1e-12 relative (reference-cases/skin-proximity).
 */
export function dowellFactor(x: number, layers: number): number {
  return foilSkinFactor(x) + ((4 * layers * layers - 1) / 36) * x ** 4 * foilFieldFactor(x);
}
