import { bracketedRoot } from '../../numerics/bracketed-root.ts';
import { rectifierCurrentInto, solveFirstHarmonic, startFromFirstHarmonic } from './first-harmonic.ts';
import {
  type BridgeDrive,
  type FlowCache,
  measurePeriodic,
  PERIODIC_DEFAULTS,
  type PeriodicState,
  periodicState,
} from './periodic-steady-state.ts';
import type { CircuitReadings } from './switched-measure.ts';
import type { SwitchedNetwork } from './switched-network.ts';

/** A periodic steady state with its readings. */
export interface PeriodicSolution {
  readonly state: PeriodicState;
  readonly readings: CircuitReadings;
  /** The start that led here, or a rescue. */
  readonly path: 'firstHarmonic' | 'given' | 'held voltage';
}

/** Part of a reservoir's reactance that a sinusoidal receiver current meets: its own ripple less that of the load's steady draw. */
const RIPPLE_SHARE = 1 - 8 / Math.PI ** 2;

const heldNetworks = new WeakMap<SwitchedNetwork, SwitchedNetwork>();

/**
 * The network with its rectified voltage held, and the reservoir's ripple in series with the receiver's capacitor (0.19 of the
 * reservoir's reactance). The same object for the same network, so that exponentials can be kept.
 */
function heldNetwork(network: SwitchedNetwork): SwitchedNetwork {
  let held = heldNetworks.get(network);
  if (held === undefined) {
    const cs = 1 / (1 / network.cs + (Number.isFinite(network.reservoir) ? RIPPLE_SHARE / network.reservoir : 0));
    held = { ...network, cs, reservoir: Number.POSITIVE_INFINITY, loadA: 0 };
    heldNetworks.set(network, held);
  }
  return held;
}

/** Rectified voltage that counts as a short circuit behind the rectifier. */
export const SHORT_V = 0.02;

export interface SolveOptions {
  /** Readings to 1e-6 instead of 1e-9. */
  readonly quick: boolean;
  readonly cache: FlowCache | null;
}

export const SOLVE_DEFAULTS: SolveOptions = Object.freeze({ quick: false, cache: null });

/**
 * Current that the link delivers into a held rectified voltage, with the whole steady state.
 *
 * @param network its load is ignored. @param rectifiedV V, >= 0. @param guess start state of a neighbouring solution, or null.
 * @returns the solution, or null where none was found.
 *
 * The held voltage takes out the slow motion of the reservoir, so that this solve is the most robust of all. The ripple's effect on the
 * phase of the receiver current is kept to first order (see `heldNetwork`): current within 3e-4 for a reservoir of 50 series capacitances.
 */
export function solveHeldVoltage(
  network: SwitchedNetwork,
  drive: BridgeDrive,
  rectifiedV: number,
  guess: Float64Array | null = null,
  options: SolveOptions = SOLVE_DEFAULTS,
): PeriodicSolution | null {
  const held = heldNetwork(network);
  const attempt = (start: Float64Array, settle: number, maxIterations: number): PeriodicState | null => {
    start[5] = rectifiedV;
    const state = periodicState(held, drive, start, { ...PERIODIC_DEFAULTS, settle, maxIterations }, options.cache);
    return state.converged && state.multiplier < 1 + 1e-6 ? state : null;
  };
  let state: PeriodicState | null = null;
  let path: PeriodicSolution['path'] = 'given';
  if (guess !== null) state = attempt(guess.slice(), 1, 12);
  if (state === null) {
    path = 'firstHarmonic';
    const first = rectifierCurrentInto(network, drive, rectifiedV);
    state = attempt(
      startFromFirstHarmonic(network, drive, first, rectifiedV),
      PERIODIC_DEFAULTS.settle,
      PERIODIC_DEFAULTS.maxIterations,
    );
  }
  if (state === null) {
    path = 'held voltage';
    state = attempt(new Float64Array(6), 200, 80);
  }
  if (state === null) return null;
  const readings = measurePeriodic(state, drive, options.quick);
  // The series capacitance of the held network stands for the reservoir's ripple as well: give the real capacitor its share.
  const share = held.cs / network.cs;
  return {
    state,
    readings: { ...readings, receiverCapacitorPeakV: readings.receiverCapacitorPeakV * share },
    path,
  };
}

/**
 * Periodic steady state with a constant current drawn from the reservoir.
 *
 * @param network with finite reservoir and its load. @param guess start state of a neighbouring solution, or null.
 * @returns the solution, or null where the link cannot carry the current (or nothing converged).
 *
 * Tries Newton from the guess, then from the first harmonic, then finds the rectified voltage at which the held-voltage link delivers
 * the current (bracketed between zero and the open-circuit voltage) and starts from there. Unstable solutions are refused.
 */
export function solveLoadCurrent(
  network: SwitchedNetwork,
  drive: BridgeDrive,
  guess: Float64Array | null = null,
  options: SolveOptions = SOLVE_DEFAULTS,
): PeriodicSolution | null {
  const accept = (state: PeriodicState, path: PeriodicSolution['path']): PeriodicSolution | null =>
    state.converged && state.multiplier < 1 + 1e-7 && state.start[5] > 0
      ? { state, readings: measurePeriodic(state, drive, options.quick), path }
      : null;
  if (guess !== null) {
    const found = accept(
      periodicState(network, drive, guess, { ...PERIODIC_DEFAULTS, settle: 1 }, options.cache),
      'given',
    );
    if (found !== null) return found;
  }
  // A link that does not drive the load into a short circuit has no steady state: cheaper to ask than to let Newton fail.
  const short = solveHeldVoltage(network, drive, SHORT_V, null, { quick: true, cache: null });
  if (short !== null && short.readings.rectifierA <= network.loadA) return null;
  const first = solveFirstHarmonic(network, drive, network.loadA);
  if (first.rectifiedV > 0) {
    const start = startFromFirstHarmonic(network, drive, first, first.rectifiedV);
    const found = accept(periodicState(network, drive, start, PERIODIC_DEFAULTS, options.cache), 'firstHarmonic');
    if (found !== null) return found;
  }
  const start = startAtCurrent(network, drive);
  if (start === null) return null;
  // From here Newton is near but may have to find its way over many small conduction pulses.
  const patient = { ...PERIODIC_DEFAULTS, settle: 0, maxIterations: 100 };
  return accept(periodicState(network, drive, start, patient, options.cache), 'held voltage');
}

/** Start state whose held rectified voltage delivers the network's load; null where even a short circuit does not draw it. */
function startAtCurrent(network: SwitchedNetwork, drive: BridgeDrive): Float64Array | null {
  let last: Float64Array | null = null;
  const excess = (volts: number): number => {
    const solution = solveHeldVoltage(network, drive, volts, last);
    if (solution === null) return Number.NaN;
    last = solution.state.start;
    return solution.readings.rectifierA - network.loadA;
  };
  const atZero = excess(SHORT_V);
  if (!(atZero > 0)) return null;
  let low = SHORT_V;
  let atLow = atZero;
  let high = Math.max(1, 0.5 * drive.volts);
  let atHigh = excess(high);
  for (let k = 0; k < 30 && atHigh > 0; k++) {
    low = high;
    atLow = atHigh;
    high *= 1.5;
    atHigh = excess(high);
  }
  if (!(atHigh <= 0)) return null;
  const root = bracketedRoot(excess, low, high, atLow, atHigh, { xTolerance: 1e-5 * high });
  if (!Number.isFinite(root.value)) return null;
  return solveHeldVoltage(network, drive, root.value, last)?.state.start ?? null;
}
