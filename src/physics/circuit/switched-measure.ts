import { type FlowInterval, step, UNITS_PER_STEP } from './switched-flow.ts';
import { I1, I2, SIZE, type SwitchedNetwork, V1, VC1, VCD, VCS, VR } from './switched-network.ts';

/** What a meter and an oscilloscope would read in the periodic steady state. SI. */
export interface CircuitReadings {
  /** Mean rectified voltage. */
  readonly rectifiedV: number;
  /** Mean current of the bridge supply. */
  readonly supplyA: number;
  /** rms */
  readonly transmitterA: number;
  readonly receiverA: number;
  /** Mean of the product of both currents, A^2. */
  readonly currentProduct: number;
  readonly transmitterPeakA: number;
  readonly receiverPeakA: number;
  readonly transmitterCapacitorPeakV: number;
  readonly receiverCapacitorPeakV: number;
  /** Mean current into the reservoir. */
  readonly rectifierA: number;
  /** W lost in the ringing resistance of the parallel capacitor. */
  readonly ringingLoss: number;
  /** W lost in the rectifier's drop and resistance. */
  readonly rectifierLoss: number;
  /** Share of the time without rectifier current. */
  readonly idleShare: number;
  /** Power that left the bridge, W. */
  readonly bridgeW: number;
}

const STEP_LEVEL = Math.log2(UNITS_PER_STEP);
/** Inner steps per stretch, as a power of two: twice Boole's rule, or once when quick. */
const INNER = 3;
const QUICK_INNER = 2;
/** Where the quick walk starts: a five-hundredth of a sampling step. */
const QUICK_LEVEL = STEP_LEVEL - 9;

/**
 * Averages and peaks over the recorded intervals of one (half) period.
 *
 * @param quick start the steps coarser: 1e-6 instead of 1e-9.
 *
 * Method: every interval is walked again in steps that start at the finest and double, so that the fast rise of the rectifier
 * current is resolved; Boole's rule on quarter steps for the squares; extremes from the cubic between samples; charge from
 * the series capacitor's voltage, exactly.
 */
export function measureIntervals(
  intervals: readonly FlowInterval[],
  network: SwitchedNetwork,
  bridgeV: number,
  capacitorBias: number,
  quick: boolean,
): CircuitReadings {
  const sums = new Sums(network);
  let energy = 0;
  const x = new Float64Array(SIZE);
  for (const interval of intervals) {
    x.set(interval.start);
    const e = interval.on ? interval.ladder.on : interval.ladder.off;
    const before = x[VC1];
    const volts = x[V1];
    sums.fraction(x, e, interval, interval.lead);
    let left = interval.units;
    const inner = quick ? QUICK_INNER : INNER;
    let level = quick ? QUICK_LEVEL : inner;
    while (left > 0) {
      const size = 2 ** level;
      if (left >= size) {
        sums.boole(x, e, interval, level, inner);
        left -= size;
        if (level < STEP_LEVEL) level++;
      } else if (level > inner) level--;
      else {
        // Fewer than one stretch's worth of finest steps remain.
        sums.fraction(x, e, interval, 1);
        left -= 1;
      }
    }
    sums.fraction(x, e, interval, interval.tail);
    energy += volts * network.c1 * (x[VC1] - before);
  }
  const t = sums.time;
  const bridgeW = energy / t;
  const rectifierA = sums.rectifier / t;
  return {
    rectifiedV: sums.rectified / t,
    supplyA: bridgeW / bridgeV,
    transmitterA: Math.sqrt(sums.square1 / t),
    receiverA: Math.sqrt(sums.square2 / t),
    currentProduct: sums.product / t,
    transmitterPeakA: sums.peak1,
    receiverPeakA: sums.peak2,
    transmitterCapacitorPeakV: sums.peakC1 + capacitorBias,
    receiverCapacitorPeakV: sums.peakCs,
    rectifierA,
    ringingLoss: network.cd > 0 ? (network.ringingResistance * sums.squareParallel) / t : 0,
    rectifierLoss: network.rectifierDrop * rectifierA + network.rectifierResistance * (sums.squareRectifier / t),
    idleShare: sums.idle / t,
    bridgeW,
  };
}

const WEIGHTS = [7, 32, 12, 32, 14, 32, 12, 32, 7].map((weight) => weight / 180);
const QUICK_WEIGHTS = [7, 32, 12, 32, 7].map((weight) => weight / 90);

class Sums {
  time = 0;
  square1 = 0;
  square2 = 0;
  product = 0;
  squareRectifier = 0;
  squareParallel = 0;
  rectifier = 0;
  rectified = 0;
  idle = 0;
  peak1 = 0;
  peak2 = 0;
  peakC1 = 0;
  peakCs = 0;
  readonly #network: SwitchedNetwork;
  readonly #points = WEIGHTS.map(() => new Float64Array(SIZE));

  constructor(network: SwitchedNetwork) {
    this.#network = network;
  }

  #rectifierCurrent(x: Float64Array): number {
    const { cd, rectifierDrop, rectifierResistance, ringingResistance: rs } = this.#network;
    return cd > 0 ? (x[VCD] + rs * x[I2] - x[VR] - rectifierDrop) / (rectifierResistance + rs) : x[I2];
  }

  #add(x: Float64Array, on: boolean, weight: number): void {
    this.square1 += weight * x[I1] * x[I1];
    this.square2 += weight * x[I2] * x[I2];
    this.product += weight * x[I1] * x[I2];
    this.rectified += weight * x[VR];
    let parallel = this.#network.cd > 0 ? x[I2] : 0;
    if (on) {
      const i = this.#rectifierCurrent(x);
      this.rectifier += weight * i;
      this.squareRectifier += weight * i * i;
      parallel = x[I2] - i;
    }
    this.squareParallel += weight * parallel * parallel;
    this.peak1 = Math.max(this.peak1, Math.abs(x[I1]));
    this.peak2 = Math.max(this.peak2, Math.abs(x[I2]));
    this.peakC1 = Math.max(this.peakC1, Math.abs(x[VC1]));
    this.peakCs = Math.max(this.peakCs, Math.abs(x[VCS]));
  }

  #pass(on: boolean, duration: number): void {
    this.time += duration;
    if (!on) this.idle += duration;
  }

  /** Trapezoid over a share of one finest step. */
  fraction(x: Float64Array, e: Float64Array, interval: FlowInterval, share: number): void {
    if (share === 0) return;
    const duration = share * interval.ladder.finest;
    const next = this.#points[1];
    step(e, 0, x, next);
    this.#add(x, interval.on, duration / 2);
    for (let i = 0; i < V1; i++) x[i] += share * (next[i] - x[i]);
    this.#add(x, interval.on, duration / 2);
    this.#pass(interval.on, duration);
  }

  /** Boole's rule over 2^level finest steps, in 2^inner inner steps. */
  boole(x: Float64Array, e: Float64Array, interval: FlowInterval, level: number, inner: number): void {
    const duration = interval.ladder.finest * 2 ** level;
    const p = this.#points;
    const offset = (level - inner) * SIZE * SIZE;
    const steps = 2 ** inner;
    const weights = inner === INNER ? WEIGHTS : QUICK_WEIGHTS;
    p[0].set(x);
    for (let k = 0; k < steps; k++) {
      step(e, offset, p[k], p[k + 1]);
      this.#extremes(p[k], p[k + 1], duration / steps);
    }
    for (let k = 0; k <= steps; k++) this.#add(p[k], interval.on, weights[k] * duration);
    x.set(p[steps]);
    this.#pass(interval.on, duration);
  }

  /** Capacitor voltages peak where the current changes sign. */
  #extremes(a: Float64Array, b: Float64Array, duration: number): void {
    const { c1, cs } = this.#network;
    if (a[I1] * b[I1] < 0)
      this.peakC1 = Math.max(this.peakC1, cubicPeak(a[VC1], b[VC1], a[I1] / c1, b[I1] / c1, duration));
    if (a[I2] * b[I2] < 0)
      this.peakCs = Math.max(this.peakCs, cubicPeak(a[VCS], b[VCS], a[I2] / cs, b[I2] / cs, duration));
  }
}

/** Magnitude at the point where the slope, taken as linear, vanishes, on the cubic through both ends. */
function cubicPeak(a: number, b: number, slopeA: number, slopeB: number, duration: number): number {
  const t = slopeA / (slopeA - slopeB);
  const u = 1 - t;
  return Math.abs(u * u * (1 + 2 * t) * a + t * t * (3 - 2 * t) * b + t * u * (u * slopeA - t * slopeB) * duration);
}
