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
/** Slope of the excess, V per unit of what the point moves by; filled by `edgeExcess` only. */
export const SLOPE = 6;
export const RESULT_SIZE = 7;

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
 * `requiredExcess` with its slope in `out[SLOPE]`, for points that move along a line: the total by `dTotal`, the rectifier current by
 * `dRectifierA`. Newton's method then needs one call a step.
 */
export function edgeExcess(
  p: Float64Array,
  total: number,
  dTotal: number,
  rectifierA: number,
  dRectifierA: number,
  out: Float64Array,
): number {
  const omegaCd = p[OMEGA_CD];
  const current = (Math.PI / 2) * rectifierA + omegaCd * total;
  const dCurrent = (Math.PI / 2) * dRectifierA + omegaCd * dTotal;
  let vRe = (4 / Math.PI) * total;
  let dvRe = (4 / Math.PI) * dTotal;
  let vIm = 0;
  let dvIm = 0;
  if (omegaCd > 0 && current > 0) {
    const x = current / omegaCd;
    const dx = dCurrent / omegaCd;
    const u = total / x;
    const du = (dTotal - u * dx) / x;
    const c = Math.max(-1, 1 - 2 * u);
    const s = Math.sqrt(1 - c * c);
    const angle = Math.acos(c) - s * c;
    dvRe = dvRe * (1 - u) - vRe * du;
    vRe *= 1 - u;
    vIm = -(x / Math.PI) * angle;
    // d(angle)/dc = -2 s.
    dvIm = -(dx * angle + 4 * x * s * du) / Math.PI;
  }
  const omegaM = p[OMEGA_M];
  const r1 = p[R1];
  const x1 = p[X1];
  const re = p[R2] * current + vRe;
  const im = p[X2] * current + vIm;
  const dRe = p[R2] * dCurrent + dvRe;
  const dIm = p[X2] * dCurrent + dvIm;
  const per = 1 / omegaM;
  const square = (re * re + im * im) * per * per;
  const dSquare = 2 * (re * dRe + im * dIm) * per * per;
  const peak = Math.sqrt(square);
  const v1Re = (r1 * im + x1 * re) * per;
  const v1Im = (x1 * im - r1 * re) * per - omegaM * current;
  const dv1Re = (r1 * dIm + x1 * dRe) * per;
  const dv1Im = (x1 * dIm - r1 * dRe) * per - omegaM * dCurrent;
  const linkW = 0.5 * (square * r1 + current * re);
  const dLinkW = 0.5 * (dSquare * r1 + dCurrent * re + current * dRe);
  const open = p[OPEN_V];
  const ohm = p[SUPPLY_OHM];
  const under = open * open - 4 * ohm * (linkW + p[DEAD_TIME] * peak);
  const root = Math.sqrt(v1Re * v1Re + v1Im * v1Im);
  const needed = root / p[PER_VOLT];
  const dNeeded = (v1Re * dv1Re + v1Im * dv1Im) / (root * p[PER_VOLT]);
  out[NEEDED_V] = needed;
  out[TRANSMITTER_PEAK] = peak;
  out[RECEIVER_PEAK] = current;
  out[LINK_W] = linkW;
  if (under < 0) {
    out[SUPPLIED_V] = open / 2;
    out[OVERLOADED] = 1;
    out[SLOPE] = dNeeded + dLinkW;
    return needed - open / 2 + linkW;
  }
  const sag = Math.sqrt(under);
  out[SUPPLIED_V] = (open + sag) / 2;
  out[OVERLOADED] = 0;
  out[SLOPE] = dNeeded + (ohm * (dLinkW + (p[DEAD_TIME] * dSquare) / (2 * peak))) / sag;
  return needed - out[SUPPLIED_V];
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
