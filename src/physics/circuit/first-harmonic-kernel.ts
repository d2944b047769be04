/**
 * The first harmonic of one setting, seen from the receiver: rectified voltage and rectifier current in, everything else in closed form.
 * Flat arrays and no allocation, since maps call it a hundred million times; `first-harmonic-tier.ts` and `batch-link.ts` stand on it.
 */

/** Places in the parameter array of a setting. SI. */
export const OMEGA_M = 0;
export const OMEGA_CD = 1;
export const R1 = 2;
export const X1 = 3;
export const R2 = 4;
export const X2 = 5;
/** Amplitude of the bridge's fundamental per volt of supply. */
export const PER_VOLT = 6;
/** Dead-time loss per ampere of peak transmitter current, W/A. */
export const DEAD_TIME = 7;
/** Supply behind the standing current's drop, V, and its resistance. */
export const OPEN_V = 8;
export const SUPPLY_OHM = 9;
export const SETTING_SIZE = 10;

/** Places in the result array. */
export const NEEDED_V = 0;
export const SUPPLIED_V = 1;
export const OVERLOADED = 2;
export const TRANSMITTER_PEAK = 3;
export const RECEIVER_PEAK = 4;
export const LINK_W = 5;
export const RESULT_SIZE = 6;

/**
 * How much more supply voltage a point needs than the supply gives, V; rises with `total` and with `rectifierA`.
 *
 * @param p setting. @param total rectified voltage plus both drops, V. @param rectifierA A, >= 0. @param out filled, `[RESULT_SIZE]`.
 *
 * Method: the parallel capacitor's exact describing function under a sinusoidal current; the supply's own resistance by the smaller
 * root of its power equation; where no root exists the excess power is added so that the function keeps rising.
 */
export function requiredExcess(p: Float64Array, total: number, rectifierA: number, out: Float64Array): number {
  const omegaCd = p[OMEGA_CD];
  const current = (Math.PI / 2) * rectifierA + omegaCd * total;
  let vRe = (4 / Math.PI) * total;
  let vIm = 0;
  if (omegaCd > 0 && current > 0) {
    const x = current / omegaCd;
    const c = Math.max(-1, 1 - (2 * total) / x);
    vRe *= 1 - total / x;
    vIm = -(x / Math.PI) * (Math.acos(c) - Math.sqrt(1 - c * c) * c);
  }
  const omegaM = p[OMEGA_M];
  const r1 = p[R1];
  const x1 = p[X1];
  const re = p[R2] * current + vRe;
  const im = p[X2] * current + vIm;
  const i1Re = im / omegaM;
  const i1Im = -re / omegaM;
  const square = i1Re * i1Re + i1Im * i1Im;
  const peak = Math.sqrt(square);
  const v1Re = r1 * i1Re - x1 * i1Im;
  const v1Im = r1 * i1Im + x1 * i1Re - omegaM * current;
  const linkW = 0.5 * (square * r1 + current * re);
  const open = p[OPEN_V];
  const under = open * open - 4 * p[SUPPLY_OHM] * (linkW + p[DEAD_TIME] * peak);
  const overloaded = under < 0;
  const supplied = overloaded ? open / 2 : (open + Math.sqrt(under)) / 2;
  const needed = Math.sqrt(v1Re * v1Re + v1Im * v1Im) / p[PER_VOLT];
  out[NEEDED_V] = needed;
  out[SUPPLIED_V] = supplied;
  out[OVERLOADED] = overloaded ? 1 : 0;
  out[TRANSMITTER_PEAK] = peak;
  out[RECEIVER_PEAK] = current;
  out[LINK_W] = linkW;
  return needed - supplied + (overloaded ? linkW : 0);
}

/**
 * Rectifier current into a held voltage by the closed form that neglects the capacitor's phase ("corrected charge"), at a given supply
 * voltage. A; 0 where the link does not reach the voltage.
 */
export function correctedChargeCurrent(p: Float64Array, total: number, suppliedV: number): number {
  const omegaM = p[OMEGA_M];
  const r1 = p[R1];
  const x1 = p[X1];
  const reflected = (omegaM * omegaM) / (r1 * r1 + x1 * x1);
  const r = p[R2] + reflected * r1;
  const x = p[X2] - reflected * x1;
  const amplitude = p[PER_VOLT] * suppliedV;
  const open2 = reflected * amplitude * amplitude;
  const v = (4 / Math.PI) * total;
  const z2 = r * r + x * x;
  const under = v * v * r * r + z2 * (open2 - v * v);
  if (!(under > 0)) return 0;
  const current = (2 / Math.PI) * ((Math.sqrt(under) - v * r) / z2 - p[OMEGA_CD] * total);
  return Math.max(current, 0);
}

/**
 * Rectifier current into a held voltage, A, with the capacitor's exact waveform and the supply's sag; 0 where the link does not reach
 * it. `out` holds the point on return. Relative accuracy 1e-12.
 *
 * Method: Newton with a numeric slope from the closed form, kept inside a shrinking bracket.
 */
export function deliveredCurrent(p: Float64Array, total: number, out: Float64Array): number {
  if (!(requiredExcess(p, total, 0, out) < 0)) return 0;
  const scale = 1e-13 * p[OPEN_V];
  let low = 0;
  let high = Number.POSITIVE_INFINITY;
  let x = correctedChargeCurrent(p, total, p[OPEN_V]);
  if (!(x > 0)) x = 0.01;
  for (let k = 0; k < 80; k++) {
    const h = 1e-6 * (x + 1e-3);
    const beyond = requiredExcess(p, total, x + h, out);
    const fx = requiredExcess(p, total, x, out);
    if (fx < scale && fx > -scale) return x;
    if (fx < 0) low = x;
    else high = x;
    const newton = x - (fx * h) / (beyond - fx);
    let next: number;
    if (newton > low && newton < high) next = newton;
    else next = high === Number.POSITIVE_INFINITY ? 2 * x : (low + high) / 2;
    const move = next - x;
    x = next;
    if (move < 1e-13 * x && move > -1e-13 * x) break;
  }
  requiredExcess(p, total, x, out);
  return x;
}
