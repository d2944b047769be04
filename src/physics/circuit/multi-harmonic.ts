import { bracketedRoot } from '../../numerics/bracketed-root.ts';
import { bridgeHarmonic, solveFirstHarmonic } from './first-harmonic.ts';
import type { BridgeDrive } from './periodic-steady-state.ts';
import type { CircuitReadings } from './switched-measure.ts';
import type { SwitchedNetwork } from './switched-network.ts';

/** Odd harmonics summed. The parallel capacitor's short ramp (tens of degrees) needs more than the nine of a smooth waveform. */
const HARMONICS = 20;
const SAMPLES = 96;

/** The coil currents at one harmonic of the drive. */
export interface CoilHarmonic {
  readonly order: number;
  /** rms, A */
  readonly transmitterA: number;
  readonly receiverA: number;
  /** Mean of their product, A^2, for a positive mutual inductance, the receiver's counted as it leaves its coil. */
  readonly product: number;
}

export interface MultiHarmonic {
  /** Odd ones in order, the fundamental first. */
  readonly harmonics: readonly CoilHarmonic[];
  readonly readings: CircuitReadings;
  /** Angle over which the parallel capacitor swings, rad. */
  readonly commutation: number;
  /**
   * The receiver current keeps its sign over the half cycle, as the method supposes. Where it does not, the rectifier conducts with
   * interruptions and the numbers may belong to a branch that does not exist.
   */
  readonly continuous: boolean;
}

/** Per-harmonic admittances of the coupled loops: i2 = y21 v1 + y22 v2, i1 = y11 v1 + y12 v2; arrays re, im by harmonic. */
interface Admittances {
  readonly omega: number;
  readonly y11: Float64Array;
  readonly y12: Float64Array;
  readonly y21: Float64Array;
  readonly y22: Float64Array;
  readonly source: Float64Array;
}

/**
 * Steady state with a fixed direct current by harmonic balance: the rectifier's input voltage is a trapezoid whose edges are
 * parabolas (the receiver current charges the parallel capacitor), placed where the current crosses zero.
 *
 * @param network link and tanks. @param drive bridge with half-wave symmetry (full bridge, or half bridge at duty 0.5).
 * @param loadA direct current out of the rectifier, A.
 * @returns the solution, or null where there is none with conduction over the half cycle, or the drive has even harmonics.
 *
 * Accuracy: within 0.5 % of the periodic steady state where `continuous` (reference-cases/circuit-periodic); useless where not.
 * Method: unknown crossing and commutation angle from two real equations by Newton with numeric derivatives, started at the first harmonic.
 */
export function solveMultiHarmonic(network: SwitchedNetwork, drive: BridgeDrive, loadA: number): MultiHarmonic | null {
  if (drive.bridge === 'half' && drive.duty < 0.5 - 1e-9) return null;
  const first = solveFirstHarmonic(network, drive, loadA);
  const y = admittances(network, drive);
  // The current's upward zero crossing lags the bridge's fundamental by its phase.
  const crossing = first.bridgePhase;
  const solved =
    network.cd > 0
      ? commutating(network, y, loadA, crossing, first.rectifiedV + network.rectifierDrop, first.receiverPeakA)
      : abrupt(network, y, loadA, crossing);
  if (solved === null || !(solved.total > 0)) return null;
  return fields(network, drive, y, solved.crossing, solved.commutation, solved.total);
}

function admittances(network: SwitchedNetwork, drive: BridgeDrive): Admittances {
  const omega = 2 * Math.PI * drive.frequency;
  const arrays = [0, 1, 2, 3].map(() => new Float64Array(2 * HARMONICS));
  const source = new Float64Array(HARMONICS);
  const r2 = network.r2 + network.rectifierResistance;
  for (let k = 0; k < HARMONICS; k++) {
    const w = (2 * k + 1) * omega;
    const x1 = w * network.l1 - 1 / (w * network.c1);
    const x2 = w * network.l2 - 1 / (w * network.cs);
    const xm = w * Math.abs(network.m);
    // det = Z1 Z2 + xm^2
    const re = network.r1 * r2 - x1 * x2 + xm * xm;
    const im = network.r1 * x2 + x1 * r2;
    const d = re * re + im * im;
    const put = (array: Float64Array, numRe: number, numIm: number) => {
      array[2 * k] = (numRe * re + numIm * im) / d;
      array[2 * k + 1] = (numIm * re - numRe * im) / d;
    };
    put(arrays[0], r2, x2);
    put(arrays[1], 0, -xm);
    put(arrays[2], 0, xm);
    put(arrays[3], -network.r1, -x1);
    source[k] = bridgeHarmonic(drive, 2 * k + 1);
  }
  return { omega, y11: arrays[0], y12: arrays[1], y21: arrays[2], y22: arrays[3], source };
}

/** Complex harmonic of the unit rectifier voltage referred to its own crossing: v2 = V' sum Im(s_n e^{jn(theta - crossing)}). */
function rectifierHarmonic(n: number, ramp: number, out: Float64Array): void {
  if (ramp < 1e-3) {
    out[0] = 4 / (Math.PI * n);
    out[1] = 0;
    return;
  }
  // s_n = (2j/pi) integral over half a cycle of g e^{-jn phi}, g = 2 (phi/ramp)^2 - 1 up to ramp, then 1.
  const c = Math.cos(n * ramp);
  const s = Math.sin(n * ramp);
  // Integral of -1 over the ramp and +1 after it: (2 E - 1 - e^{-jn pi}) / (jn) with e^{-jn pi} = -1, E = e^{-jn ramp}.
  let re = (-2 * s) / n;
  let im = (-2 * c) / n;
  // Integral of 2 (phi/ramp)^2 e^{-jn phi}: (2/ramp^2) [E (j ramp^2/n + 2 ramp/n^2 - 2j/n^3) + 2j/n^3].
  const q = 2 / (ramp * ramp);
  const a = (2 * ramp) / (n * n);
  const b = (ramp * ramp) / n - 2 / (n * n * n);
  re += q * (c * a + s * b);
  im += q * (c * b - s * a + 2 / (n * n * n));
  out[0] = (-2 / Math.PI) * im;
  out[1] = (2 / Math.PI) * re;
}

const harmonic = new Float64Array(2);

/** Sums at crossing d and ramp: current at the crossing, charge over the ramp, mean current after it, each per volt of bridge and of rectifier. */
interface Balance {
  readonly total: number;
  readonly charge: number;
  readonly mean: number;
}

function balance(y: Admittances, d: number, ramp: number, network: SwitchedNetwork): Balance {
  let a = 0;
  let b = 0;
  let chargeA = 0;
  let chargeB = 0;
  let meanA = 0;
  let meanB = 0;
  for (let k = 0; k < HARMONICS; k++) {
    const n = 2 * k + 1;
    const cd = Math.cos(n * d);
    const sd = Math.sin(n * d);
    const vRe = y.source[k] * cd;
    const vIm = y.source[k] * sd;
    const cRe = y.y21[2 * k] * vRe - y.y21[2 * k + 1] * vIm;
    const cIm = y.y21[2 * k] * vIm + y.y21[2 * k + 1] * vRe;
    rectifierHarmonic(n, ramp, harmonic);
    const bRe = y.y22[2 * k] * harmonic[0] - y.y22[2 * k + 1] * harmonic[1];
    const bIm = y.y22[2 * k] * harmonic[1] + y.y22[2 * k + 1] * harmonic[0];
    a += cIm;
    b += bIm;
    // g = (e^{jn ramp} - 1)/(jn), h = (e^{jn pi} - e^{jn ramp})/(jn)
    const gRe = Math.sin(n * ramp) / n;
    const gIm = (1 - Math.cos(n * ramp)) / n;
    const hRe = -gRe;
    const hIm = 2 / n - gIm;
    chargeA += cRe * gIm + cIm * gRe;
    chargeB += bRe * gIm + bIm * gRe;
    meanA += (cRe * hIm + cIm * hRe) / Math.PI;
    meanB += (bRe * hIm + bIm * hRe) / Math.PI;
  }
  if (ramp === 0) b += abruptTail(y.omega, network);
  const total = -a / b;
  return {
    total,
    charge: chargeA + total * (chargeB - 2 * y.omega * network.cd),
    mean: meanA + total * meanB,
  };
}

/** The square wave's omitted harmonics drive a triangle through the leakage inductance, which still counts at the corner. */
function abruptTail(omega: number, network: SwitchedNetwork): number {
  const leakage = network.l2 - (network.m * network.m) / network.l1;
  let left = (Math.PI * Math.PI) / 8;
  for (let k = 0; k < HARMONICS; k++) left -= 1 / (2 * k + 1) ** 2;
  return ((4 / Math.PI) * left) / (omega * leakage);
}

interface Angles {
  readonly crossing: number;
  readonly commutation: number;
  readonly total: number;
}

/** No parallel capacitor: one unknown. The branch with positive rectified voltage nearest to the first harmonic's crossing. */
function abrupt(network: SwitchedNetwork, y: Admittances, loadA: number, guess: number): Angles | null {
  const excess = (d: number) => balance(y, d, 0, network).mean - loadA;
  let best: Angles | null = null;
  const count = 120;
  let previous = guess - Math.PI / 2;
  let atPrevious = excess(previous);
  for (let i = 1; i <= count; i++) {
    const d = guess - Math.PI / 2 + (i * Math.PI) / count;
    const at = excess(d);
    if (atPrevious * at <= 0) {
      const root = bracketedRoot(excess, previous, d, atPrevious, at, { xTolerance: 1e-11 });
      const total = balance(y, root.value, 0, network).total;
      if (
        root.converged &&
        total > 0 &&
        (best === null || Math.abs(root.value - guess) < Math.abs(best.crossing - guess))
      ) {
        best = { crossing: root.value, commutation: 0, total };
      }
    }
    previous = d;
    atPrevious = at;
  }
  return best;
}

/** With parallel capacitor: Newton in crossing and ramp. */
function commutating(
  network: SwitchedNetwork,
  y: Admittances,
  loadA: number,
  guess: number,
  totalGuess: number,
  currentGuess: number,
): Angles | null {
  const scale = Math.max(loadA, 1e-3);
  const evaluate = (d: number, ramp: number): [number, number] => {
    const at = balance(y, d, ramp, network);
    return [at.charge / scale, (at.mean - loadA) / scale];
  };
  const reach = currentGuess / (y.omega * network.cd);
  let ramp = reach > totalGuess ? Math.acos(1 - (2 * totalGuess) / reach) : 1;
  if (!(ramp > 0)) ramp = 0.3;
  // Scan a few starts around the first harmonic's angles: Newton alone can land on a neighbouring branch.
  for (const shift of [0, -0.15, 0.15, -0.4, 0.4, -0.8, 0.8]) {
    let d = guess + shift;
    let theta = Math.min(2.8, ramp);
    let [f, g] = evaluate(d, theta);
    let converged = false;
    for (let iteration = 0; iteration < 40; iteration++) {
      const size = Math.hypot(f, g);
      if (size < 1e-10) {
        converged = true;
        break;
      }
      const h = 1e-6;
      const [fd, gd] = evaluate(d + h, theta);
      const [ft, gt] = evaluate(d, theta + h);
      const a = (fd - f) / h;
      const b = (ft - f) / h;
      const c = (gd - g) / h;
      const e = (gt - g) / h;
      const determinant = a * e - b * c;
      if (determinant === 0 || !Number.isFinite(determinant)) break;
      const stepD = (-f * e + g * b) / determinant;
      const stepT = (-g * a + f * c) / determinant;
      let damping = Math.min(1, 0.3 / Math.max(Math.abs(stepD), Math.abs(stepT), 1e-12));
      let moved = false;
      for (; damping > 1e-3; damping /= 2) {
        const nextTheta = theta + damping * stepT;
        if (nextTheta < 2e-3 || nextTheta > 3) continue;
        const [nf, ng] = evaluate(d + damping * stepD, nextTheta);
        if (Math.hypot(nf, ng) < size) {
          d += damping * stepD;
          theta = nextTheta;
          f = nf;
          g = ng;
          moved = true;
          break;
        }
      }
      if (!moved) {
        converged = size < 1e-7;
        break;
      }
    }
    if (!converged) continue;
    const total = balance(y, d, theta, network).total;
    if (total > 0) return { crossing: d, commutation: theta, total };
  }
  return null;
}

function fields(
  network: SwitchedNetwork,
  drive: BridgeDrive,
  y: Admittances,
  d: number,
  ramp: number,
  total: number,
): MultiHarmonic {
  const i1 = new Float64Array(2 * HARMONICS);
  const i2 = new Float64Array(2 * HARMONICS);
  let square1 = 0;
  let square2 = 0;
  let product = 0;
  const harmonics: CoilHarmonic[] = [];
  let bridgeW = 0;
  for (let k = 0; k < HARMONICS; k++) {
    const n = 2 * k + 1;
    rectifierHarmonic(n, ramp, harmonic);
    const c = Math.cos(n * d);
    const s = Math.sin(n * d);
    const v = y.source[k];
    const vRe = total * (harmonic[0] * c + harmonic[1] * s);
    const vIm = total * (harmonic[1] * c - harmonic[0] * s);
    i1[2 * k] = y.y11[2 * k] * v + y.y12[2 * k] * vRe - y.y12[2 * k + 1] * vIm;
    i1[2 * k + 1] = y.y11[2 * k + 1] * v + y.y12[2 * k] * vIm + y.y12[2 * k + 1] * vRe;
    i2[2 * k] = y.y21[2 * k] * v + y.y22[2 * k] * vRe - y.y22[2 * k + 1] * vIm;
    i2[2 * k + 1] = y.y21[2 * k + 1] * v + y.y22[2 * k] * vIm + y.y22[2 * k + 1] * vRe;
    square1 += (i1[2 * k] ** 2 + i1[2 * k + 1] ** 2) / 2;
    square2 += (i2[2 * k] ** 2 + i2[2 * k + 1] ** 2) / 2;
    const both = (i1[2 * k] * i2[2 * k] + i1[2 * k + 1] * i2[2 * k + 1]) / 2;
    product += both;
    harmonics.push({
      order: n,
      transmitterA: Math.hypot(i1[2 * k], i1[2 * k + 1]) / Math.SQRT2,
      receiverA: Math.hypot(i2[2 * k], i2[2 * k + 1]) / Math.SQRT2,
      product: both,
    });
    bridgeW += 0.5 * v * i1[2 * k];
  }
  let peak1 = 0;
  let peak2 = 0;
  let peakC1 = 0;
  let peakCs = 0;
  let lowest = Number.POSITIVE_INFINITY;
  for (let p = 0; p <= SAMPLES; p++) {
    const angle = d + (p * Math.PI) / SAMPLES;
    let a = 0;
    let b = 0;
    let qa = 0;
    let qb = 0;
    for (let k = 0; k < HARMONICS; k++) {
      const n = 2 * k + 1;
      const c = Math.cos(n * angle);
      const s = Math.sin(n * angle);
      a += i1[2 * k] * s + i1[2 * k + 1] * c;
      b += i2[2 * k] * s + i2[2 * k + 1] * c;
      qa -= (i1[2 * k] * c - i1[2 * k + 1] * s) / (n * y.omega * network.c1);
      qb -= (i2[2 * k] * c - i2[2 * k + 1] * s) / (n * y.omega * network.cs);
    }
    peak1 = Math.max(peak1, Math.abs(a));
    peak2 = Math.max(peak2, Math.abs(b));
    peakC1 = Math.max(peakC1, Math.abs(qa));
    peakCs = Math.max(peakCs, Math.abs(qb));
    lowest = Math.min(lowest, b);
  }
  const at = balance(y, d, ramp, network);
  const bias = drive.bridge === 'half' ? drive.duty * drive.volts : 0;
  const rectifierA = at.mean;
  return {
    readings: {
      rectifiedV: total - network.rectifierDrop,
      supplyA: bridgeW / drive.volts,
      transmitterA: Math.sqrt(square1),
      receiverA: Math.sqrt(square2),
      currentProduct: product,
      transmitterPeakA: peak1,
      receiverPeakA: peak2,
      transmitterCapacitorPeakV: peakC1 + bias,
      receiverCapacitorPeakV: peakCs,
      rectifierA,
      ringingLoss: 0,
      rectifierLoss: network.rectifierDrop * rectifierA + network.rectifierResistance * square2,
      idleShare: ramp / Math.PI,
      bridgeW,
    },
    harmonics,
    commutation: ramp,
    continuous: lowest > -0.02 * peak2,
  };
}
