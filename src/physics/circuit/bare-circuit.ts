import { ConvergenceError, type FaultDetail, InputError } from '../../numerics/errors.ts';
import { solveFirstHarmonic } from './first-harmonic.ts';
import { solveMultiHarmonic } from './multi-harmonic.ts';
import { SHORT_V, solveHeldVoltage, solveLoadCurrent } from './periodic-operation.ts';
import type { BridgeDrive } from './periodic-steady-state.ts';
import type { CircuitReadings } from './switched-measure.ts';
import type { SwitchedNetwork } from './switched-network.ts';
import type { SolverMethod } from './types.ts';

/** The switched link circuit without any control: what the `circuit` command reads. SI; symbols as in the README of this folder. */
export interface BareCircuit {
  readonly bridge: 'full' | 'half';
  /** Transmitter: inductance, series capacitance, coil resistance, resistance of one switch, of the capacitor. */
  readonly L1: number;
  readonly C1: number;
  readonly R1: number;
  readonly Ron: number;
  readonly RC1: number;
  /** Receiver: inductance, series capacitance, coil resistance, resistance of the capacitor, parallel capacitance (0: none). */
  readonly L2: number;
  readonly Cs: number;
  readonly R2: number;
  readonly RCs: number;
  readonly Cd: number;
  /** One rectifier device (two conduct): drop and resistance. */
  readonly Vd0: number;
  readonly Rd: number;
  /** Bridge supply. */
  readonly Vin: number;
  /** Coupling factor. */
  readonly k: number;
  /** Drive frequency and duty (full bridge: of each half cycle; half bridge: of the high side). */
  readonly f: number;
  readonly duty: number;
  /** Constant current drawn from the rectifier's reservoir, and that reservoir. */
  readonly Idc: number;
  readonly Crect: number;
}

export interface BareReadings {
  /** Mean rectified voltage and mean supply current. */
  readonly Vr: number;
  readonly Iin: number;
  readonly I1rms: number;
  readonly I2rms: number;
  /** Peak magnitude of the series capacitors' voltages, the blocking voltage of a half bridge included. */
  readonly VC1pk: number;
  readonly VCspk: number;
}

export interface BareSolution {
  /** All NaN where the first harmonic has no solution for this current (the circuit itself may have one). */
  readonly firstHarmonic: BareReadings;
  /** null: even harmonics (half bridge below 0.5), or the receiver current does not keep its sign over the half cycle. */
  readonly multiHarmonic: BareReadings | null;
  readonly periodic: BareReadings;
  readonly chosen: SolverMethod;
}

interface NumberRule {
  readonly unit: string;
  readonly low: number;
  /** Whether `low` itself is allowed. */
  readonly lowAllowed: boolean;
  readonly high: number;
  readonly words: string;
}

const positive = (unit: string): NumberRule => ({
  unit,
  low: 0,
  lowAllowed: false,
  high: Number.MAX_VALUE,
  words: `a number > 0 ${unit}`,
});
const nonNegative = (unit: string): NumberRule => ({
  unit,
  low: 0,
  lowAllowed: true,
  high: Number.MAX_VALUE,
  words: `a number >= 0 ${unit}`,
});

const RULES: Readonly<Record<Exclude<keyof BareCircuit, 'bridge' | 'duty'>, NumberRule>> = {
  L1: positive('H'),
  C1: positive('F'),
  R1: nonNegative('ohm'),
  Ron: nonNegative('ohm'),
  RC1: nonNegative('ohm'),
  L2: positive('H'),
  Cs: positive('F'),
  R2: nonNegative('ohm'),
  RCs: nonNegative('ohm'),
  Cd: nonNegative('F'),
  Vd0: nonNegative('V'),
  Rd: nonNegative('ohm'),
  Vin: positive('V'),
  k: { unit: '', low: 0, lowAllowed: true, high: 0.9999, words: 'a number from 0 to 0.9999' },
  f: positive('Hz'),
  Idc: nonNegative('A'),
  Crect: positive('F'),
};

function printed(value: unknown, unit: string): string {
  if (typeof value === 'number') return unit === '' ? String(value) : `${value} ${unit}`;
  if (value === undefined) return 'nothing';
  return JSON.stringify(value) ?? String(value);
}

function numberFault(path: string, value: unknown, rule: NumberRule): FaultDetail | null {
  const good =
    typeof value === 'number' &&
    Number.isFinite(value) &&
    (rule.lowAllowed ? value >= rule.low : value > rule.low) &&
    value <= rule.high;
  if (good) return null;
  return {
    code: value === undefined ? 'missing-key' : 'out-of-range',
    path,
    required: rule.words,
    received: printed(value, rule.unit),
  };
}

/**
 * Checks a bare circuit as read from a file.
 *
 * @param input parsed JSON. Missing or null `Cd` means no parallel capacitor; every other key is required, unknown keys are refused.
 * @throws InputError with one fault per wrong key.
 */
export function readBareCircuit(input: unknown): BareCircuit {
  if (typeof input !== 'object' || input === null || Array.isArray(input)) {
    throw new InputError({
      code: 'not-an-object',
      path: 'circuit',
      required: 'an object with the keys of a bare circuit',
      received: Array.isArray(input) ? 'a list' : printed(input, ''),
    });
  }
  const given = input as Record<string, unknown>;
  const faults: FaultDetail[] = [];
  const known = ['bridge', 'duty', ...Object.keys(RULES)];
  for (const key of Object.keys(given)) {
    if (!known.includes(key)) {
      faults.push({
        code: 'unknown-key',
        path: key,
        required: `one of ${known.join(' ')}`,
        received: `the unknown key ${key}`,
      });
    }
  }
  const { bridge } = given;
  if (bridge !== 'full' && bridge !== 'half') {
    faults.push({
      code: bridge === undefined ? 'missing-key' : 'not-a-choice',
      path: 'bridge',
      required: '"full" or "half"',
      received: printed(bridge, ''),
    });
  }
  const numbers: Record<string, number> = {};
  for (const [key, rule] of Object.entries(RULES)) {
    let value = given[key];
    if (key === 'Cd' && (value === undefined || value === null)) value = 0;
    const fault = numberFault(key, value, rule);
    if (fault === null) numbers[key] = value as number;
    else faults.push(fault);
  }
  const most = bridge === 'half' ? 0.5 : 1;
  const dutyFault = numberFault('duty', given.duty, {
    unit: '',
    low: 0,
    lowAllowed: false,
    high: most,
    words: `a number > 0 and at most ${most} (${bridge === 'half' ? 'high-side fraction of a half bridge' : 'fraction of each half cycle of a full bridge'})`,
  });
  if (dutyFault === null) numbers.duty = given.duty as number;
  else faults.push(dutyFault);
  if (faults.length > 0) throw new InputError(...faults);
  return { bridge, ...numbers } as unknown as BareCircuit;
}

/** Network and drive of a bare circuit: two switches conduct in a full bridge, one in a half; two rectifier devices in series. */
export function networkOfBareCircuit(circuit: BareCircuit): { network: SwitchedNetwork; drive: BridgeDrive } {
  const switches = circuit.bridge === 'full' ? 2 : 1;
  return {
    network: {
      l1: circuit.L1,
      l2: circuit.L2,
      m: circuit.k * Math.sqrt(circuit.L1 * circuit.L2),
      c1: circuit.C1,
      cs: circuit.Cs,
      r1: circuit.R1 + switches * circuit.Ron + circuit.RC1,
      r2: circuit.R2 + circuit.RCs,
      cd: circuit.Cd,
      ringingResistance: 0,
      rectifierDrop: 2 * circuit.Vd0,
      rectifierResistance: 2 * circuit.Rd,
      reservoir: circuit.Crect,
      loadA: Math.max(circuit.Idc, LEAST_LOAD),
    },
    drive: { bridge: circuit.bridge, volts: circuit.Vin, frequency: circuit.f, duty: circuit.duty },
  };
}

/** A rectifier without any load has no steady state of its own (every higher voltage stays): a microampere of leakage settles it. */
const LEAST_LOAD = 1e-6;

const NOTHING: BareReadings = Object.freeze({
  Vr: Number.NaN,
  Iin: Number.NaN,
  I1rms: Number.NaN,
  I2rms: Number.NaN,
  VC1pk: Number.NaN,
  VCspk: Number.NaN,
});

function named(readings: CircuitReadings): BareReadings {
  return {
    Vr: readings.rectifiedV,
    Iin: readings.supplyA,
    I1rms: readings.transmitterA,
    I2rms: readings.receiverA,
    VC1pk: readings.transmitterCapacitorPeakV,
    VCspk: readings.receiverCapacitorPeakV,
  };
}

/**
 * Solves the bare switched circuit by all three methods.
 *
 * @param circuit checked by `readBareCircuit`.
 * @returns readings per method, and the method to be reported: the periodic steady state, the only one without an assumption about
 * the waveform.
 * @throws InputError where the link cannot deliver Idc at any rectified voltage; ConvergenceError where no periodic state was found.
 *
 * Accuracy: the chosen one within 1e-5 of independent time-domain solutions (reference-cases/circuit-periodic).
 */
export function solveBareCircuit(circuit: BareCircuit): BareSolution {
  const { network, drive } = networkOfBareCircuit(circuit);
  const periodic = solveLoadCurrent(network, drive);
  if (periodic === null) throw failure(circuit, network, drive);
  const first = solveFirstHarmonic(network, drive, network.loadA);
  const omega = 2 * Math.PI * circuit.f;
  const multi = solveMultiHarmonic(network, drive, network.loadA);
  const bias = circuit.bridge === 'half' ? circuit.duty * circuit.Vin : 0;
  const fundamental: BareReadings = {
    Vr: first.rectifiedV,
    Iin: first.bridgeW / circuit.Vin,
    I1rms: first.transmitterPeakA / Math.SQRT2,
    I2rms: first.receiverPeakA / Math.SQRT2,
    VC1pk: first.transmitterPeakA / (omega * circuit.C1) + bias,
    VCspk: first.receiverPeakA / (omega * circuit.Cs),
  };
  return {
    firstHarmonic: Number.isFinite(first.rectifiedV) ? fundamental : NOTHING,
    multiHarmonic: multi?.continuous ? named(multi.readings) : null,
    periodic: named(periodic.readings),
    chosen: 'periodic',
  };
}

function failure(circuit: BareCircuit, network: SwitchedNetwork, drive: BridgeDrive): Error {
  const short = solveHeldVoltage(network, drive, SHORT_V);
  if (short !== null && short.readings.rectifierA <= network.loadA) {
    return new InputError({
      code: 'beyond-collapse',
      path: 'Idc',
      required: `at most ${short.readings.rectifierA.toPrecision(4)} A, what this link drives into a short circuit`,
      received: `${circuit.Idc} A`,
      hint: 'Lower Idc, raise Vin or k, or move f towards resonance.',
    });
  }
  return new ConvergenceError('no-periodic-state', 'The switched circuit reached no steady state.', {
    f: circuit.f,
    k: circuit.k,
    Idc: circuit.Idc,
    shortCircuitA: short?.readings.rectifierA ?? Number.NaN,
  });
}
