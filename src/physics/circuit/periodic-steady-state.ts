import { solveSmallSystem } from '../../numerics/solve-small-system.ts';
import { type DriveSegment, type FlowInterval, SwitchedFlow } from './switched-flow.ts';
import { type CircuitReadings, measureIntervals } from './switched-measure.ts';
import { ACTIVE, I1, I2, type SwitchedNetwork, tameNetwork, VC1, VCD, VCS, VR } from './switched-network.ts';

/** Bridge waveform at a fixed frequency. */
export interface BridgeDrive {
  readonly bridge: 'full' | 'half';
  /** Bridge supply, V. */
  readonly volts: number;
  /** Hz */
  readonly frequency: number;
  /** Full bridge: fraction of each half cycle, (0, 1]; half bridge: high-side fraction, (0, 0.5]. */
  readonly duty: number;
}

/** Keeps the exponentials of the last network, frequency and duty for a repeat at another bridge voltage. */
export interface FlowCache {
  network: SwitchedNetwork | null;
  frequency: number;
  duty: number;
  flow: SwitchedFlow | null;
}

export interface PeriodicOptions {
  /** Residual of the period map, relative to the size of the states. */
  readonly tolerance: number;
  readonly maxIterations: number;
  /** Half cycles propagated before the first Newton step. */
  readonly settle: number;
}

export const PERIODIC_DEFAULTS: PeriodicOptions = Object.freeze({ tolerance: 1e-9, maxIterations: 25, settle: 4 });

export interface PeriodicState {
  /** Start of the cycle (rising edge of the bridge), 6 numbers as in switched-network.ts. */
  readonly start: Float64Array;
  /** Relative residual of the period map. */
  readonly residual: number;
  readonly iterations: number;
  /** Largest magnitude of the multipliers of the map; below 1 the operation is stable. */
  readonly multiplier: number;
  readonly converged: boolean;
  readonly flow: SwitchedFlow;
  /** The map covers half a period and negates the state (half-wave symmetric drive). */
  readonly symmetric: boolean;
}

/**
 * Drive over the stretch that the map covers. A half bridge at full duty is a full bridge of half the voltage
 * once the blocking voltage of the series capacitor is set aside (`capacitorBias`).
 */
function driveStretch(drive: BridgeDrive): { segments: DriveSegment[]; symmetric: boolean; capacitorBias: number } {
  const period = 1 / drive.frequency;
  const { volts, duty } = drive;
  if (drive.bridge === 'full') {
    return {
      segments: [
        { volts, duration: (duty * period) / 2 },
        { volts: 0, duration: ((1 - duty) * period) / 2 },
      ],
      symmetric: true,
      capacitorBias: 0,
    };
  }
  if (duty > 0.5 - 1e-9) {
    return { segments: [{ volts: volts / 2, duration: period / 2 }], symmetric: true, capacitorBias: volts / 2 };
  }
  return {
    segments: [
      { volts, duration: duty * period },
      { volts: 0, duration: (1 - duty) * period },
    ],
    symmetric: false,
    capacitorBias: 0,
  };
}

function flowFor(
  circuit: SwitchedNetwork,
  drive: BridgeDrive,
  segments: readonly DriveSegment[],
  cache: FlowCache | null,
): SwitchedFlow {
  const period = 1 / drive.frequency;
  if (cache?.flow && cache.network === circuit && cache.frequency === drive.frequency && cache.duty === drive.duty) {
    cache.flow.redrive(segments, period);
    return cache.flow;
  }
  const flow = new SwitchedFlow(tameNetwork(circuit, drive.frequency), segments, period);
  if (cache !== null) Object.assign(cache, { network: circuit, frequency: drive.frequency, duty: drive.duty, flow });
  return flow;
}

/** Just above 1: keeps Newton's matrix regular where a charge is conserved (no conduction at all) without moving any other step. */
const IDENTITY = 1 + 1e-10;

/** Order in which states are unknowns; without parallel capacitor or with a held rectified voltage some drop out. */
function unknownStates(network: SwitchedNetwork): number[] {
  const unknown = [I1, VC1, I2, VCS];
  if (network.cd > 0) unknown.push(VCD);
  if (Number.isFinite(network.reservoir)) unknown.push(VR);
  return unknown;
}

/**
 * Periodic steady state of the switched circuit: Newton shooting on the exact map over half a period (or a whole one).
 *
 * @param circuit the network. @param drive bridge waveform.
 * @param guess 6 numbers, state at the rising edge; of a half bridge at full duty without the capacitor's blocking voltage.
 * @param cache exponentials kept between calls with the same network object; pass one only to calls that do not interleave.
 * @returns start state, residual and multiplier; `converged` false where Newton did not reach the tolerance.
 *
 * Accuracy: residual below 1e-9; waveforms exact between events (see switched-flow.ts).
 * Method: residual r(x) = S F(x) - x with the exact derivative of F, steps halved until the residual falls, plain settling where they do not.
 */
export function periodicState(
  circuit: SwitchedNetwork,
  drive: BridgeDrive,
  guess: Float64Array,
  options: PeriodicOptions = PERIODIC_DEFAULTS,
  cache: FlowCache | null = null,
): PeriodicState {
  const { segments, symmetric } = driveStretch(drive);
  const flow = flowFor(circuit, drive, segments, cache);
  const { network } = flow;
  const unknown = unknownStates(network);
  const n = unknown.length;
  const x = guess.slice(0, ACTIVE);
  if (network.cd === 0) x[VCD] = 0;
  const trial = new Float64Array(ACTIVE);
  const residual = new Float64Array(ACTIVE);
  const scale = new Float64Array(ACTIVE);
  const jacobian = new Float64Array(n * n);
  const right = new Float64Array(n);

  const map = (from: Float64Array, withSensitivity: boolean): number => {
    flow.begin(from);
    if (!flow.run(withSensitivity, null)) return Number.POSITIVE_INFINITY;
    let worst = 0;
    for (const i of unknown) {
      const sign = symmetric && i !== VR ? -1 : 1;
      residual[i] = sign * flow.state[i] - from[i];
      const relative = Math.abs(residual[i]) / scale[i];
      if (!(relative <= worst)) worst = relative;
    }
    return worst;
  };
  const rescale = () => {
    const current = Math.max(Math.abs(x[I1]), Math.abs(x[I2]), 1e-3);
    const volts = Math.max(Math.abs(x[VR]), Math.abs(x[VC1]), Math.abs(x[VCS]), 0.1);
    scale[I1] = current;
    scale[I2] = current;
    scale[VC1] = volts;
    scale[VCS] = volts;
    scale[VCD] = volts;
    scale[VR] = volts;
  };
  const settle = (count: number): boolean => {
    for (let k = 0; k < count; k++) {
      flow.begin(x);
      if (!flow.run(false, null)) return false;
      for (const i of unknown) x[i] = symmetric && i !== VR ? -flow.state[i] : flow.state[i];
    }
    return true;
  };
  const failed = (iterations: number, worst: number): PeriodicState => ({
    start: x,
    residual: worst,
    iterations,
    multiplier: Number.NaN,
    converged: false,
    flow,
    symmetric,
  });

  if (!settle(options.settle)) return failed(0, Number.POSITIVE_INFINITY);
  rescale();
  let worst = map(x, true);
  let iteration = 0;
  for (; iteration < options.maxIterations && worst > options.tolerance; iteration++) {
    if (!Number.isFinite(worst)) return failed(iteration, worst);
    for (let a = 0; a < n; a++) {
      const i = unknown[a];
      const sign = symmetric && i !== VR ? -1 : 1;
      for (let b = 0; b < n; b++) {
        jacobian[a * n + b] = sign * flow.sensitivity[i * ACTIVE + unknown[b]] - (a === b ? IDENTITY : 0);
      }
      right[a] = -residual[i];
    }
    const regular = solveSmallSystem(jacobian, right, n);
    let accepted = false;
    for (let damping = 1; regular && damping > 0.02; damping /= 2) {
      for (let i = 0; i < ACTIVE; i++) trial[i] = x[i];
      for (let a = 0; a < n; a++) trial[unknown[a]] += damping * right[a];
      const reached = map(trial, true);
      if (reached < worst * (1 - 0.1 * damping)) {
        x.set(trial);
        worst = reached;
        accepted = true;
        break;
      }
    }
    if (!accepted) {
      if (!settle(24)) return failed(iteration, Number.POSITIVE_INFINITY);
      worst = map(x, true);
    }
    rescale();
  }
  if (!(worst <= options.tolerance)) return failed(iteration, worst);
  const multiplier = largestMultiplier(flow.sensitivity, unknown, symmetric);
  return { start: x, residual: worst, iterations: iteration, multiplier, converged: true, flow, symmetric };
}

const POWER_ROUNDS = 12;
const powers = [new Float64Array(ACTIVE * ACTIVE), new Float64Array(ACTIVE * ACTIVE)];

/** Spectral radius of the map's derivative, by repeated squaring. */
function largestMultiplier(sensitivity: Float64Array, unknown: readonly number[], symmetric: boolean): number {
  const n = unknown.length;
  let [a, b] = powers;
  for (let i = 0; i < n; i++) {
    const sign = symmetric && unknown[i] !== VR ? -1 : 1;
    for (let j = 0; j < n; j++) a[i * n + j] = sign * sensitivity[unknown[i] * ACTIVE + unknown[j]];
  }
  // log of |A^(2^round)|; the growth between the last two powers is free of the norm's constant.
  let logarithm = 0;
  let earlier = 0;
  for (let round = 0; round < POWER_ROUNDS; round++) {
    let norm = 0;
    for (let i = 0; i < n * n; i++) norm = Math.max(norm, Math.abs(a[i]));
    if (norm === 0) return 0;
    earlier = logarithm;
    logarithm += Math.log(norm) / 2 ** round;
    for (let i = 0; i < n * n; i++) a[i] /= norm;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        let sum = 0;
        for (let k = 0; k < n; k++) sum += a[i * n + k] * a[k * n + j];
        b[i * n + j] = sum;
      }
    }
    [a, b] = [b, a];
  }
  return Math.exp(2 * logarithm - earlier);
}

/** Readings of a converged state; `quick` is good to 1e-6, otherwise 1e-9, see switched-measure.ts. */
export function measurePeriodic(state: PeriodicState, drive: BridgeDrive, quick = false): CircuitReadings {
  const { capacitorBias } = driveStretch(drive);
  const intervals: FlowInterval[] = [];
  state.flow.begin(state.start);
  state.flow.run(false, intervals);
  return measureIntervals(intervals, state.flow.network, drive.volts, capacitorBias, quick);
}
