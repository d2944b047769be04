import { exponentialLadder } from '../../numerics/exponential-ladder.ts';
import {
  ACTIVE,
  I2,
  networkMatrices,
  ONE,
  ringingFrequency,
  SIZE,
  type SwitchedNetwork,
  V1,
  VCD,
  VCS,
  VR,
} from './switched-network.ts';

/** A stretch of constant bridge voltage. */
export interface DriveSegment {
  readonly volts: number;
  /** s */
  readonly duration: number;
}

/** A stretch between two events, as the flow saw it. Flipped stretches hold negated states (see switched-network.ts). */
export interface FlowInterval {
  readonly on: boolean;
  readonly flipped: boolean;
  readonly ladder: StepLadder;
  /** State at the start, in the frame of the interval. */
  readonly start: Float64Array;
  /** Length in finest steps; `lead` and `tail` are fractions of one finest step at either end. */
  units: number;
  readonly lead: number;
  tail: number;
}

/** Exponentials of both modes at all powers of two of one finest step. */
export interface StepLadder {
  readonly finest: number;
  readonly off: Float64Array;
  readonly on: Float64Array;
}

/** Finest steps per sampling step: events are bracketed to this, then interpolated. */
const FINE_LEVEL = 17;
export const UNITS_PER_STEP = 2 ** FINE_LEVEL;
/** Levels above the sampling step, used to bridge long stretches at once. */
const COARSE_LEVELS = 7;
export const LADDER_LEVELS = FINE_LEVEL + 1 + COARSE_LEVELS;
const BLOCK = SIZE * SIZE;

/** Sampling steps per period: enough for the fundamental and for the ringing of the parallel capacitor. */
const LEAST_STEPS_PER_PERIOD = 96;
const STEPS_PER_RINGING = 14;
const MOST_EVENTS = 2000;
/** Levels of halving at which a dip between two samples is still looked for. */
const DIP_LEVELS = 4;

/**
 * Propagates the switched circuit exactly between located events.
 *
 * Steps are matrix exponentials; a change of mode is sampled at every step (with a test for a dip between samples), bracketed by
 * halving to a hundred-thousandth of a step and placed by linear interpolation, so that the flow is a smooth function of its start.
 */
export class SwitchedFlow {
  readonly network: SwitchedNetwork;
  segments: readonly DriveSegment[];
  /** State now, in the frame given by `flipped`. */
  readonly state = new Float64Array(SIZE);
  /** Derivative of the state with respect to the start, `[6, 6]`, in the same frame. */
  readonly sensitivity = new Float64Array(ACTIVE * ACTIVE);
  on = false;
  flipped = false;
  events = 0;
  readonly #off: Float64Array;
  readonly #on: Float64Array;
  readonly #ladders: StepLadder[] = [];
  readonly #steps: number[] = [];
  readonly #next = new Float64Array(SIZE);
  readonly #scratch = new Float64Array(ACTIVE * ACTIVE);
  readonly #field = new Float64Array(2 * SIZE);

  /** @param network tamed network. @param segments drive over the stretch to propagate. @param period s, sets the sampling. */
  constructor(network: SwitchedNetwork, segments: readonly DriveSegment[], period: number) {
    this.network = network;
    this.segments = segments.filter((segment) => segment.duration > 1e-9 * period);
    const { off, on } = networkMatrices(network);
    this.#off = off;
    this.#on = on;
    const ringing = network.cd > 0 ? STEPS_PER_RINGING * ringingFrequency(network) * period : 0;
    const stepsPerPeriod = Math.max(LEAST_STEPS_PER_PERIOD, ringing);
    for (const segment of this.segments) {
      const steps = Math.max(4, Math.ceil((stepsPerPeriod * segment.duration) / period));
      const finest = segment.duration / steps / UNITS_PER_STEP;
      this.#steps.push(steps);
      const same = this.#ladders.find((ladder) => Math.abs(ladder.finest / finest - 1) < 1e-12);
      this.#ladders.push(
        same ?? {
          finest,
          off: exponentialLadder(off, SIZE, ACTIVE, finest, LADDER_LEVELS, new Float64Array(LADDER_LEVELS * BLOCK)),
          on: exponentialLadder(on, SIZE, ACTIVE, finest, LADDER_LEVELS, new Float64Array(LADDER_LEVELS * BLOCK)),
        },
      );
    }
  }

  /** The same network and timing under another bridge voltage: keeps the exponentials. */
  redrive(segments: readonly DriveSegment[], period: number): void {
    this.segments = segments.filter((segment) => segment.duration > 1e-9 * period);
  }

  /** Puts the flow at a start state (6 numbers, unflipped) and forgets sensitivity. */
  begin(start: Float64Array): void {
    for (let i = 0; i < ACTIVE; i++) this.state[i] = start[i];
    this.state[ONE] = 1;
    this.state[V1] = this.segments[0].volts;
    this.sensitivity.fill(0);
    for (let i = 0; i < ACTIVE; i++) this.sensitivity[i * ACTIVE + i] = 1;
    this.flipped = false;
    this.on = false;
    this.events = 0;
    if (this.network.cd === 0 && this.state[I2] !== 0) {
      this.on = true;
      if (this.state[I2] < 0) this.#flip();
    } else this.#choose();
  }

  /** Propagates over all segments. @returns false if the events did not end or the rectified voltage fell through zero. */
  run(withSensitivity: boolean, intervals: FlowInterval[] | null): boolean {
    for (let s = 0; s < this.segments.length; s++) {
      const volts = this.segments[s].volts;
      this.state[V1] = this.flipped ? -volts : volts;
      if (!this.on) this.#choose();
      if (!this.#runSegment(s, withSensitivity, intervals)) return false;
    }
    if (this.flipped) this.#flip();
    return this.events < MOST_EVENTS && this.state[VR] > -this.network.rectifierDrop - 1e-3;
  }

  #runSegment(s: number, withSensitivity: boolean, intervals: FlowInterval[] | null): boolean {
    const ladder = this.#ladders[s];
    let remaining = this.#steps[s] * UNITS_PER_STEP;
    let ceiling = UNITS_PER_STEP;
    let level = FINE_LEVEL;
    let stretch = 0;
    let lead = 0;
    let interval: FlowInterval | null = null;
    const open = () => {
      if (intervals !== null) {
        interval = { on: this.on, flipped: this.flipped, ladder, start: this.state.slice(), units: 0, lead, tail: 0 };
        intervals.push(interval);
      }
    };
    open();
    while (remaining > 0) {
      while (ceiling > remaining) {
        ceiling /= 2;
        level--;
      }
      const exponentials = this.on ? ladder.on : ladder.off;
      step(exponentials, level * BLOCK, this.state, this.#next);
      if (this.#stays(level > FINE_LEVEL - DIP_LEVELS ? ceiling * ladder.finest : 0)) {
        this.state.set(this.#next);
        remaining -= ceiling;
        stretch += ceiling;
        continue;
      }
      if (level > 0) {
        ceiling /= 2;
        level--;
        continue;
      }
      // The event lies inside this finest step: linear on both sides of it.
      if (++this.events > MOST_EVENTS) return false;
      const share = this.#shareOfStep();
      if (withSensitivity) {
        this.#bridge(exponentials, stretch);
        this.#fraction(exponentials, share);
      }
      if (interval !== null) {
        (interval as FlowInterval).units = stretch;
        (interval as FlowInterval).tail = share;
      }
      for (let i = 0; i < ACTIVE; i++) this.state[i] += share * (this.#next[i] - this.state[i]);
      this.#changeMode(withSensitivity);
      lead = 1 - share;
      open();
      const after = this.on ? ladder.on : ladder.off;
      step(after, 0, this.state, this.#next);
      if (withSensitivity) this.#fraction(after, lead);
      for (let i = 0; i < ACTIVE; i++) this.state[i] += lead * (this.#next[i] - this.state[i]);
      remaining -= 1;
      stretch = 0;
      ceiling = UNITS_PER_STEP;
      level = FINE_LEVEL;
    }
    if (withSensitivity) this.#bridge(this.on ? ladder.on : ladder.off, stretch);
    if (interval !== null) (interval as FlowInterval).units = stretch;
    return true;
  }

  /** Voltage at the rectifier while it does not conduct. */
  #openVoltage(x: Float64Array): number {
    const { m, l1, r1, cd, ringingResistance } = this.network;
    if (cd > 0) return x[VCD] + ringingResistance * x[I2];
    return (m / l1) * (x[V1] - r1 * x[0] - x[1]) - x[VCS];
  }

  /** From `off` with the present state: start conducting where the voltage already asks for it. */
  #choose(): void {
    const x = this.state;
    const drive = this.#openVoltage(x);
    if (Math.abs(drive) <= x[VR] + this.network.rectifierDrop) return;
    this.on = true;
    if (drive < 0) this.#flip();
  }

  #changeMode(withSensitivity: boolean): void {
    const x = this.state;
    const wasOn = this.on;
    const discontinuous = wasOn && this.network.cd === 0;
    const before = this.#field;
    if (discontinuous) {
      multiply(this.#on, x, before, 0);
      x[I2] = 0;
      this.on = false;
      const flippedBefore = this.flipped;
      this.#choose();
      if (withSensitivity) {
        // The frame may have flipped: compare both fields in the new one.
        const sign = this.flipped === flippedBefore ? 1 : -1;
        if (sign < 0) for (let i = 0; i < VR; i++) before[i] = -before[i];
        multiply(this.on ? this.#on : this.#off, x, before, SIZE);
        this.#saltation(before);
      }
      return;
    }
    if (wasOn) {
      this.on = false;
      return;
    }
    const drive = this.#openVoltage(x);
    this.on = true;
    if (drive < 0) this.#flip();
  }

  /** The event time moves with the start: rank-one correction `(f_after - f_before) n^T P / (n . f_before)` with n along the receiver current. */
  #saltation(fields: Float64Array): void {
    const rate = fields[I2];
    if (rate === 0) return;
    const p = this.sensitivity;
    for (let j = 0; j < ACTIVE; j++) {
      const shift = p[I2 * ACTIVE + j] / rate;
      for (let i = 0; i < ACTIVE; i++) p[i * ACTIVE + j] += (fields[SIZE + i] - fields[i]) * shift;
    }
  }

  #flip(): void {
    this.flipped = !this.flipped;
    const x = this.state;
    for (let i = 0; i < VR; i++) x[i] = -x[i];
    x[V1] = -x[V1];
    for (let i = 0; i < VR * ACTIVE; i++) this.sensitivity[i] = -this.sensitivity[i];
  }

  /**
   * Whether the step from `state` to `next` stays in its mode. `length` > 0 (s): also whether it did so between the samples,
   * judged by the cubic through values and slopes.
   */
  #stays(length: number): boolean {
    const x = this.state;
    const y = this.#next;
    const { rectifierDrop: drop, cd } = this.network;
    if (this.on) {
      if ((cd > 0 ? this.#openVoltage(y) - y[VR] - drop : y[I2]) < 0) return false;
      if (length === 0) return true;
      const slopeA = slopeOfCurrent(this.#on, x) * length;
      if (slopeA >= 0) return true;
      const slopeB = slopeOfCurrent(this.#on, y) * length;
      return slopeB <= 0 || cubicLowest(x[I2], y[I2], slopeA, slopeB) >= 0;
    }
    const limit = y[VR] + drop;
    if (Math.abs(this.#openVoltage(y)) > limit) return false;
    if (cd === 0 || length === 0 || x[I2] * y[I2] >= 0) return true;
    const sign = x[I2] > 0 ? -1 : 1;
    const perCd = (sign * length) / cd;
    return cubicLowest(sign * x[VCD], sign * y[VCD], x[I2] * perCd, y[I2] * perCd) >= -limit;
  }

  #shareOfStep(): number {
    const x = this.state;
    const y = this.#next;
    const { rectifierDrop: drop, cd } = this.network;
    let a: number;
    let b: number;
    if (this.on) {
      a = cd > 0 ? this.#openVoltage(x) - x[VR] - drop : x[I2];
      b = cd > 0 ? this.#openVoltage(y) - y[VR] - drop : y[I2];
    } else {
      a = x[VR] + drop - Math.abs(this.#openVoltage(x));
      b = y[VR] + drop - Math.abs(this.#openVoltage(y));
    }
    if (!(a > 0)) return 0;
    return b < a ? Math.min(1, a / (a - b)) : 1;
  }

  /** Sensitivity through `units` finest steps, by binary powers. */
  #bridge(exponentials: Float64Array, units: number): void {
    let left = units;
    let level = 0;
    while (left > 0) {
      if (level === LADDER_LEVELS - 1) {
        for (; left > 0; left--) this.#compose(exponentials, level * BLOCK, 1);
        return;
      }
      if (left % 2 === 1) this.#compose(exponentials, level * BLOCK, 1);
      left = Math.floor(left / 2);
      level++;
    }
  }

  #fraction(exponentials: Float64Array, share: number): void {
    this.#compose(exponentials, 0, share);
  }

  /** P <- (I + share E) P */
  #compose(e: Float64Array, offset: number, share: number): void {
    const p = this.sensitivity;
    const q = this.#scratch;
    for (let i = 0; i < ACTIVE; i++) {
      const row = offset + i * SIZE;
      const e0 = e[row] * share;
      const e1 = e[row + 1] * share;
      const e2 = e[row + 2] * share;
      const e3 = e[row + 3] * share;
      const e4 = e[row + 4] * share;
      const e5 = e[row + 5] * share;
      for (let j = 0; j < ACTIVE; j++) {
        q[i * ACTIVE + j] =
          p[i * ACTIVE + j] +
          e0 * p[j] +
          e1 * p[6 + j] +
          e2 * p[12 + j] +
          e3 * p[18 + j] +
          e4 * p[24 + j] +
          e5 * p[30 + j];
      }
    }
    p.set(q);
  }
}

/** `to = from + E from` for the six moving states; the constants are copied. */
export function step(e: Float64Array, offset: number, from: Float64Array, to: Float64Array): void {
  const x0 = from[0];
  const x1 = from[1];
  const x2 = from[2];
  const x3 = from[3];
  const x4 = from[4];
  const x5 = from[5];
  const x6 = from[6];
  const x7 = from[7];
  for (let i = 0, row = offset; i < ACTIVE; i++, row += SIZE) {
    to[i] =
      from[i] +
      (e[row] * x0 + e[row + 1] * x1 + e[row + 2] * x2 + e[row + 3] * x3) +
      (e[row + 4] * x4 + e[row + 5] * x5 + e[row + 6] * x6 + e[row + 7] * x7);
  }
  to[6] = x6;
  to[7] = x7;
}

function multiply(a: Float64Array, x: Float64Array, out: Float64Array, offset: number): void {
  for (let i = 0; i < ACTIVE; i++) {
    let sum = 0;
    for (let j = 0; j < SIZE; j++) sum += a[i * SIZE + j] * x[j];
    out[offset + i] = sum;
  }
}

function slopeOfCurrent(a: Float64Array, x: Float64Array): number {
  let sum = 0;
  for (let j = 0; j < SIZE; j++) sum += a[I2 * SIZE + j] * x[j];
  return sum;
}

/** Lowest value at seven inner points of the cubic with the given end values and end slopes (times the step). */
function cubicLowest(a: number, b: number, slopeA: number, slopeB: number): number {
  let lowest = Math.min(a, b);
  for (let i = 1; i < 8; i++) {
    const t = i / 8;
    const u = 1 - t;
    const value = u * u * (1 + 2 * t) * a + t * t * (3 - 2 * t) * b + t * u * (u * slopeA - t * slopeB);
    if (value < lowest) lowest = value;
  }
  return lowest;
}
