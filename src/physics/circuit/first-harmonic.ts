import { bracketedRoot } from '../../numerics/bracketed-root.ts';
import type { BridgeDrive } from './periodic-steady-state.ts';
import type { SwitchedNetwork } from './switched-network.ts';

/** Amplitude (signed) of sin(n w t) in the bridge voltage when its pulses are centred at w t = pi/2; odd n. */
export function bridgeHarmonic(drive: BridgeDrive, n: number): number {
  const sign = n % 4 === 1 ? 1 : -1;
  if (drive.bridge === 'full')
    return ((sign * 4 * drive.volts) / (Math.PI * n)) * Math.sin((n * Math.PI * drive.duty) / 2);
  return ((sign * 2 * drive.volts) / (Math.PI * n)) * Math.sin(n * Math.PI * drive.duty);
}

/** First-harmonic solution; peak phasors, receiver current as phase reference. */
export interface FirstHarmonic {
  /** Mean rectified voltage, V; NaN where the link cannot carry the current. */
  readonly rectifiedV: number;
  /** Peaks of the fundamentals, A. */
  readonly transmitterPeakA: number;
  readonly receiverPeakA: number;
  /** Phase of the transmitter current and of the bridge voltage relative to the receiver current, rad. */
  readonly transmitterPhase: number;
  readonly bridgePhase: number;
  /** Power out of the bridge, W. */
  readonly bridgeW: number;
}

/** In-phase and quadrature part (peak, relative to the receiver current) of the rectifier's input voltage. `total` = rectified voltage plus drops. */
export function rectifierVoltage(
  currentPeak: number,
  total: number,
  omegaCd: number,
): { real: number; imaginary: number } {
  if (omegaCd === 0) return { real: (4 * total) / Math.PI, imaginary: 0 };
  const x = currentPeak / omegaCd;
  if (x <= total) return { real: 0, imaginary: -x };
  const c = 1 - (2 * total) / x;
  const theta = Math.acos(c);
  return {
    real: ((4 * total) / Math.PI) * (1 - total / x),
    imaginary: -(x / Math.PI) * (theta - Math.sqrt(1 - c * c) * c),
  };
}

interface Source {
  readonly omega: number;
  readonly z1Real: number;
  readonly z1Imaginary: number;
  readonly z2Real: number;
  readonly z2Imaginary: number;
  /** Output impedance seen by the rectifier. */
  readonly real: number;
  readonly imaginary: number;
  /** Open-circuit voltage, peak. */
  readonly open: number;
  readonly omegaM: number;
}

function sourceOf(network: SwitchedNetwork, drive: BridgeDrive): Source {
  const omega = 2 * Math.PI * drive.frequency;
  const z1Real = network.r1;
  const z1Imaginary = omega * network.l1 - 1 / (omega * network.c1);
  const z2Real = network.r2 + network.rectifierResistance;
  const z2Imaginary = omega * network.l2 - 1 / (omega * network.cs);
  const omegaM = omega * Math.abs(network.m);
  const square = z1Real * z1Real + z1Imaginary * z1Imaginary;
  const reflected = (omegaM * omegaM) / square;
  return {
    omega,
    z1Real,
    z1Imaginary,
    z2Real,
    z2Imaginary,
    real: z2Real + reflected * z1Real,
    imaginary: z2Imaginary - reflected * z1Imaginary,
    open: (omegaM * Math.abs(bridgeHarmonic(drive, 1))) / Math.sqrt(square),
    omegaM,
  };
}

/**
 * Rectified voltage and currents for a given direct current, first harmonic with the parallel capacitor's exact waveform.
 *
 * @param network link and tanks. @param drive bridge. @param loadA direct current out of the rectifier, A, >= 0.
 * @returns the solution; rectifiedV NaN where the link cannot carry the current.
 *
 * Accuracy: against the periodic steady state within 10 % in continuous conduction at full duty; Vr up to 45 % low near the low
 * end of the window at high k and up to 25 % low at light load (README, reference-cases/circuit-periodic).
 * Method: |Zt I + V2(V')| = U has one root in V' = Vr + drops, since the left side rises with V' (bracketed).
 * Source: shared derivation in the README of this folder (describing function of a capacitively loaded bridge).
 */
export function solveFirstHarmonic(network: SwitchedNetwork, drive: BridgeDrive, loadA: number): FirstHarmonic {
  const s = sourceOf(network, drive);
  const omegaCd = s.omega * network.cd;
  const direct = (Math.PI / 2) * loadA;
  const excess = (total: number): number => {
    const current = direct + omegaCd * total;
    const v = rectifierVoltage(current, total, omegaCd);
    return Math.hypot(s.real * current + v.real, s.imaginary * current + v.imaginary) - s.open;
  };
  const atZero = excess(0);
  if (!(atZero <= 0)) return fieldsAt(s, drive, direct, 0, omegaCd, Number.NaN);
  let high = s.open + 1e-12;
  let atHigh = excess(high);
  for (let k = 0; k < 60 && atHigh < 0; k++) {
    high *= 2;
    atHigh = excess(high);
  }
  const root = bracketedRoot(excess, 0, high, atZero, atHigh, { xTolerance: 1e-13 * high });
  const total = root.value;
  return fieldsAt(s, drive, direct + omegaCd * total, total, omegaCd, total - network.rectifierDrop);
}

function fieldsAt(
  s: Source,
  drive: BridgeDrive,
  current: number,
  total: number,
  omegaCd: number,
  rectifiedV: number,
): FirstHarmonic {
  const v = rectifierVoltage(current, total, omegaCd);
  // j wM I1 = Z2 I2 + V2
  const real = s.z2Real * current + v.real;
  const imaginary = s.z2Imaginary * current + v.imaginary;
  const i1Real = imaginary / s.omegaM;
  const i1Imaginary = -real / s.omegaM;
  const v1Real = s.z1Real * i1Real - s.z1Imaginary * i1Imaginary;
  const v1Imaginary = s.z1Real * i1Imaginary + s.z1Imaginary * i1Real - s.omegaM * current;
  return {
    rectifiedV,
    transmitterPeakA: Math.hypot(i1Real, i1Imaginary),
    receiverPeakA: current,
    transmitterPhase: Math.atan2(i1Imaginary, i1Real),
    bridgePhase: Math.atan2(v1Imaginary, v1Real) + (bridgeHarmonic(drive, 1) < 0 ? Math.PI : 0),
    bridgeW: 0.5 * (v1Real * i1Real + v1Imaginary * i1Imaginary),
  };
}

/** Phase (rad) of the bridge's fundamental at its rising edge, on the scale of `bridgeHarmonic`. */
export function edgePhase(drive: BridgeDrive): number {
  return Math.PI / 2 - (drive.bridge === 'full' ? Math.PI / 2 : Math.PI) * drive.duty;
}

/**
 * State of the switched circuit at the rising edge as the first harmonic sees it: a start for the periodic solver.
 *
 * @returns 6 numbers in the order of switched-network.ts.
 */
export function startFromFirstHarmonic(
  network: SwitchedNetwork,
  drive: BridgeDrive,
  solution: FirstHarmonic,
  rectifiedV: number,
): Float64Array {
  const omega = 2 * Math.PI * drive.frequency;
  const phase2 = edgePhase(drive) - solution.bridgePhase;
  const phase1 = phase2 + solution.transmitterPhase;
  const current2 = solution.receiverPeakA * Math.sin(phase2);
  const bias = drive.bridge === 'half' && drive.duty < 0.5 - 1e-9 ? drive.duty * drive.volts : 0;
  const turn = ((phase2 % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
  const sign = turn < Math.PI ? 1 : -1;
  const sinceZero = turn < Math.PI ? turn : turn - Math.PI;
  const total = Math.max(0, rectifiedV + network.rectifierDrop);
  let parallel = total + network.rectifierResistance * Math.abs(current2);
  if (network.cd > 0) {
    const rise = (solution.receiverPeakA / (omega * network.cd)) * (1 - Math.cos(sinceZero));
    if (rise < 2 * total) parallel = -total + rise;
  }
  return Float64Array.of(
    solution.transmitterPeakA * Math.sin(phase1),
    bias - (solution.transmitterPeakA / (omega * network.c1)) * Math.cos(phase1),
    current2,
    (-solution.receiverPeakA / (omega * network.cs)) * Math.cos(phase2),
    sign * parallel,
    Math.max(rectifiedV, 0.01),
  );
}

/**
 * Currents for a held rectified voltage, first harmonic with the parallel capacitor's exact waveform: the inverse of `solveFirstHarmonic`.
 *
 * @returns the solution with the direct current in `rectifierA`; zero current where the open-circuit voltage does not reach.
 */
export function rectifierCurrentInto(
  network: SwitchedNetwork,
  drive: BridgeDrive,
  rectifiedV: number,
): FirstHarmonic & { readonly rectifierA: number } {
  const s = sourceOf(network, drive);
  const omegaCd = s.omega * network.cd;
  const total = rectifiedV + network.rectifierDrop;
  const excess = (current: number): number => {
    const v = rectifierVoltage(current, total, omegaCd);
    return Math.hypot(s.real * current + v.real, s.imaginary * current + v.imaginary) - s.open;
  };
  const least = omegaCd * total;
  const atLeast = excess(least);
  if (!(atLeast < 0)) {
    // The rectifier never conducts: the parallel capacitor alone, or no current at all.
    const current = omegaCd > 0 ? s.open / Math.hypot(s.real, s.imaginary - 1 / omegaCd) : 0;
    return { ...fieldsAt(s, drive, Math.min(current, least), total, omegaCd, rectifiedV), rectifierA: 0 };
  }
  let high = 2 * least + (s.open + 2 * total) / Math.hypot(s.real, s.imaginary);
  let atHigh = excess(high);
  for (let k = 0; k < 60 && atHigh < 0; k++) {
    high *= 2;
    atHigh = excess(high);
  }
  const current = bracketedRoot(excess, least, high, atLeast, atHigh, { xTolerance: 1e-13 * high }).value;
  return { ...fieldsAt(s, drive, current, total, omegaCd, rectifiedV), rectifierA: (2 / Math.PI) * (current - least) };
}
