import { COPPER_TEMPERATURE_COEFFICIENT } from '../constants.ts';
import {
  bridgeSetting,
  DEAD_TIME_DROP_V,
  fullDuty,
  hasLevel,
  neededRectifiedV,
  RESISTANCE_REFERENCE_C,
  standingCurrent,
  targetRectifiedV,
} from './board-model.ts';
import {
  DEAD_TIME,
  edgeExcess,
  LINK_W,
  OMEGA_CD,
  OMEGA_M,
  OPEN_V,
  OVERLOADED,
  PER_VOLT,
  R1,
  R2,
  RECEIVER_PEAK,
  RESULT_SIZE,
  requiredExcess,
  SETTING_SIZE,
  SLOPE,
  SUPPLIED_V,
  SUPPLY_OHM,
  TRANSMITTER_PEAK,
  X1,
  X2,
} from './first-harmonic-kernel.ts';
import { COIL, LINK, SAG, SUPPLY } from './limit-codes.ts';
import type { Boards, ResistanceLaw } from './types.ts';

/** Many poses of one pair of coils. Each array has one entry per pose. */
export interface LinkBatch {
  readonly l1: Float64Array;
  readonly l2: Float64Array;
  readonly m: Float64Array;
  /** One law for all poses, or `[poses, 4]` row-major: dc, linear, quadratic, quartic. */
  readonly r1: ResistanceLaw | Float64Array;
  readonly r2: ResistanceLaw | Float64Array;
}

/** Frequencies of the window that every pose is sampled at; one more than a multiple of three, so that both ends count in the coarse walk. */
export const BATCH_NODES = 25;

/** Below this a load can lie on a branch of its own, where the parallel capacitor resonates with the coils. */
const FOLD_LOAD_A = 0.2;
const NODE_TOLERANCE = 1e-3;

/**
 * Prepared first-harmonic arithmetic for many poses on the same boards: tables over the frequency window, and one pose loaded at a time.
 * Holds scratch; not for sharing between workers. Nothing is allocated after construction.
 */
export class BatchLink {
  readonly boards: Boards;
  readonly nodes: number;
  /** Setting of the last `aim`, and its result after a kernel call. */
  readonly setting = new Float64Array(SETTING_SIZE);
  readonly result = new Float64Array(RESULT_SIZE);
  readonly drop: number;
  readonly openCharge: number;
  /** Rectified voltage needed: base + slope * load. */
  readonly neededBase: number;
  readonly neededSlope: number;
  readonly idleA: number;
  readonly linear: boolean;
  readonly levelVolt: number;
  readonly fullVolt: number;
  /** Per node of the last sweep: edge load (A, negative where none), peak transmitter current (A), supply current (A, Infinity overloaded). */
  readonly edges: Float64Array;
  readonly edgePeaks: Float64Array;
  readonly edgeSupply: Float64Array;
  readonly #frequency: Float64Array;
  /** Per node: reactances of the capacitors, ohm, and the supply behind the standing current's drop, V. */
  readonly #x1: Float64Array;
  readonly #x2: Float64Array;
  readonly #open: Float64Array;
  readonly #laws1 = new Float64Array(4);
  readonly #laws2 = new Float64Array(4);
  readonly #pose = new Float64Array(5);

  constructor(boards: Boards, nodes = BATCH_NODES) {
    const { drive, pickup } = boards;
    this.boards = boards;
    const span = drive.frequencyMin < drive.frequencyMax * (1 - 1e-9);
    this.nodes = span ? nodes : 1;
    this.#frequency = Float64Array.from({ length: this.nodes }, (_, j) =>
      span ? drive.frequencyMax * (drive.frequencyMin / drive.frequencyMax) ** (j / (nodes - 1)) : drive.frequencyMax,
    );
    this.edges = new Float64Array(this.nodes);
    this.edgePeaks = new Float64Array(this.nodes);
    this.edgeSupply = new Float64Array(this.nodes);
    this.#x1 = this.#frequency.map((f) => 1 / (2 * Math.PI * f * drive.seriesCapacitance));
    this.#x2 = this.#frequency.map((f) => 1 / (2 * Math.PI * f * pickup.seriesCapacitance));
    this.#open = this.#frequency.map((f) => drive.supplyV - drive.supplyResistance * standingCurrent(drive, f));
    this.drop = 2 * pickup.rectifier.dropV;
    this.openCharge = 4 * pickup.parallelCapacitance;
    this.neededBase = neededRectifiedV(pickup, 0);
    this.neededSlope = pickup.regulator.dropoutResistance;
    this.idleA = pickup.regulator.idleCurrent;
    this.linear = pickup.regulator.kind === 'linear';
    this.fullVolt = perVolt(boards, 1);
    this.levelVolt = hasLevel(drive) ? perVolt(boards, 0) : this.fullVolt;
  }

  frequencyAt(node: number): number {
    return this.#frequency[node];
  }

  /** Takes one pose; temperatures in C. */
  load(batch: LinkBatch, index: number, transmitterC: number, receiverC: number): void {
    const pose = this.#pose;
    pose[0] = batch.l1[index];
    pose[1] = batch.l2[index];
    pose[2] = Math.abs(batch.m[index]);
    take(batch.r1, index, this.#laws1);
    take(batch.r2, index, this.#laws2);
    this.warm(transmitterC, receiverC);
  }

  get transmitterC(): number {
    return (this.#pose[3] - 1) / COPPER_TEMPERATURE_COEFFICIENT + RESISTANCE_REFERENCE_C;
  }

  get receiverC(): number {
    return (this.#pose[4] - 1) / COPPER_TEMPERATURE_COEFFICIENT + RESISTANCE_REFERENCE_C;
  }

  warm(transmitterC: number, receiverC: number): void {
    this.#pose[3] = 1 + COPPER_TEMPERATURE_COEFFICIENT * (transmitterC - RESISTANCE_REFERENCE_C);
    this.#pose[4] = 1 + COPPER_TEMPERATURE_COEFFICIENT * (receiverC - RESISTANCE_REFERENCE_C);
  }

  /** Puts `setting` at a frequency with full drive (`perVolt` of the bridge's fundamental). */
  aim(frequency: number, amplitude = this.fullVolt): void {
    const { drive, pickup } = this.boards;
    const p = this.setting;
    const pose = this.#pose;
    const omega = 2 * Math.PI * frequency;
    p[OMEGA_M] = omega * pose[2];
    p[OMEGA_CD] = omega * pickup.parallelCapacitance;
    p[R1] =
      warmResistance(this.#laws1, frequency, pose[3]) +
      drive.seriesCapacitorResistance +
      (drive.bridge === 'full' ? 2 : 1) * drive.switchResistance;
    p[X1] = omega * pose[0] - 1 / (omega * drive.seriesCapacitance);
    p[R2] =
      warmResistance(this.#laws2, frequency, pose[4]) +
      pickup.seriesCapacitorResistance +
      2 * pickup.rectifier.resistance;
    p[X2] = omega * pose[1] - 1 / (omega * pickup.seriesCapacitance);
    p[PER_VOLT] = amplitude;
    p[DEAD_TIME] = 2 * DEAD_TIME_DROP_V * drive.deadTime * frequency;
    p[OPEN_V] = drive.supplyV - drive.supplyResistance * (drive.idleCurrent + drive.gateCharge * frequency);
    p[SUPPLY_OHM] = drive.supplyResistance;
  }

  supplyCurrent(frequency: number): number {
    const { result: at, setting: p } = this;
    return (
      (at[LINK_W] + p[DEAD_TIME] * at[TRANSMITTER_PEAK]) / at[SUPPLIED_V] +
      standingCurrent(this.boards.drive, frequency)
    );
  }

  /** How far the point in `result` lies over the coil's or the supply's limit, relative; below zero within both. */
  overLimit(frequency: number): number {
    const { drive } = this.boards;
    const coil = this.result[TRANSMITTER_PEAK] / (Math.SQRT2 * drive.coilCurrentLimit) - 1;
    const supply = this.result[OVERLOADED] > 0 ? 1 : this.supplyCurrent(frequency) / drive.supplyCurrentLimit - 1;
    return Math.max(coil, supply);
  }

  /** Code of the limit that the point in `result` breaks, `LINK` where none is. */
  brokenLimit(frequency: number): number {
    const { drive } = this.boards;
    if (this.result[TRANSMITTER_PEAK] > Math.SQRT2 * drive.coilCurrentLimit) return COIL;
    if (this.result[OVERLOADED] > 0) return SAG;
    return this.supplyCurrent(frequency) > drive.supplyCurrentLimit ? SUPPLY : LINK;
  }

  /** Dead-time loss at the present setting, W, for a peak transmitter current. */
  deadTimeLoss(peakA: number): number {
    return this.setting[DEAD_TIME] * peakA;
  }

  /** Loss in the receiver for the point in `result`, W. */
  receiverLoss(rectifiedV: number, rectifierA: number, outputW: number): number {
    const current = this.result[RECEIVER_PEAK];
    return 0.5 * current * current * this.setting[R2] + this.drop * rectifierA + rectifiedV * rectifierA - outputW;
  }

  /** Rectifier current asked by a load at a rectified voltage. */
  demand(load: number, rectifiedV: number): number {
    const { outputV, efficiency } = this.boards.pickup.regulator;
    return (this.linear ? load : (outputV * load) / (efficiency * rectifiedV)) + this.idleA;
  }

  target(load: number): number {
    return targetRectifiedV(this.boards.pickup, load);
  }

  /** `excess` with its slope over the rectified voltage at a constant load in `result`. */
  excessOverVoltage(load: number, rectifiedV: number): number {
    const slope = this.linear ? 0 : (this.idleA - this.demand(load, rectifiedV)) / rectifiedV;
    return edgeExcess(this.setting, rectifiedV + this.drop, 1, this.demand(load, rectifiedV), slope, this.result);
  }

  /** Drive asked beyond what the supply gives, V, at the present setting for a load at a rectified voltage; exact waveform. */
  excess(load: number, rectifiedV: number): number {
    return requiredExcess(this.setting, rectifiedV + this.drop, this.demand(load, rectifiedV), this.result);
  }

  /**
   * Drive asked beyond what the supply gives at the corrected charge: the capacitor takes 4 f Cd V' from the current and nothing else.
   * Cheaper than `excess` by the arc cosine; fills `result` likewise.
   */
  correctedExcess(load: number, rectifiedV: number): number {
    const p = this.setting;
    const total = rectifiedV + this.drop;
    const current = (Math.PI / 2) * this.demand(load, rectifiedV) + p[OMEGA_CD] * total;
    const omegaM = p[OMEGA_M];
    const re = p[R2] * current + (4 / Math.PI) * total;
    const im = p[X2] * current;
    const square = (re * re + im * im) / (omegaM * omegaM);
    const peak = Math.sqrt(square);
    const r1 = p[R1];
    const x1 = p[X1];
    // Numerator of V1: Z1 (re + j im) + (wM)^2 I, over j wM.
    const vRe = r1 * re - x1 * im + omegaM * omegaM * current;
    const vIm = r1 * im + x1 * re;
    const linkW = 0.5 * (square * r1 + current * re);
    const open = p[OPEN_V];
    const under = open * open - 4 * p[SUPPLY_OHM] * (linkW + p[DEAD_TIME] * peak);
    const supplied = under < 0 ? open / 2 : (open + Math.sqrt(under)) / 2;
    const out = this.result;
    const needed = Math.sqrt(vRe * vRe + vIm * vIm) / (omegaM * p[PER_VOLT]);
    out[0] = needed;
    out[SUPPLIED_V] = supplied;
    out[2] = under < 0 ? 1 : 0;
    out[TRANSMITTER_PEAK] = peak;
    out[RECEIVER_PEAK] = current;
    out[LINK_W] = linkW;
    return needed - supplied + (under < 0 ? linkW : 0);
  }

  /**
   * Edge load at every `stride`-th node (load at which the rectified voltage just meets what the regulator needs at full drive), by the
   * corrected charge; the supply's sag is that of the node before, whose power hardly differs. Fills `edges`, `edgePeaks`, `edgeSupply`.
   */
  sweep(stride: number): void {
    const { drive, pickup } = this.boards;
    const { outputV, efficiency } = pickup.regulator;
    const { edges, edgePeaks, edgeSupply } = this;
    const pose = this.#pose;
    const l1 = pose[0];
    const l2 = pose[1];
    const m = pose[2];
    const laws1 = this.#laws1;
    const laws2 = this.#laws2;
    const fixed1 = drive.seriesCapacitorResistance + (drive.bridge === 'full' ? 2 : 1) * drive.switchResistance;
    const fixed2 = pickup.seriesCapacitorResistance + 2 * pickup.rectifier.resistance;
    const base = this.neededBase + this.drop;
    const slope = this.neededSlope;
    const cd = pickup.parallelCapacitance;
    // Current and voltage of the rectifier, both linear in the load (a switching regulator's share taken at the base voltage).
    const share = this.linear ? 1 : outputV / (efficiency * this.neededBase);
    const full = this.fullVolt;
    const dead = 2 * DEAD_TIME_DROP_V * drive.deadTime;
    const rs4 = 4 * drive.supplyResistance;
    let supplied = drive.supplyV;
    for (let j = 0; j < this.nodes; j += stride) {
      const f = this.#frequency[j];
      const omega = 2 * Math.PI * f;
      const omegaM = omega * m;
      const r1 = warmResistance(laws1, f, pose[3]) + fixed1;
      const r2 = warmResistance(laws2, f, pose[4]) + fixed2;
      const x1 = omega * l1 - this.#x1[j];
      const x2 = omega * l2 - this.#x2[j];
      const reflected = (omegaM * omegaM) / (r1 * r1 + x1 * x1);
      const r = r2 + reflected * r1;
      const x = x2 - reflected * x1;
      const amplitude = full * supplied;
      const i0 = (Math.PI / 2) * this.idleA + omega * cd * base;
      const i1 = (Math.PI / 2) * share + omega * cd * slope;
      const a0 = (4 / Math.PI) * base + i0 * r;
      const a1 = (4 / Math.PI) * slope + i1 * r;
      const b0 = i0 * x;
      const b1 = i1 * x;
      const c = a0 * a0 + b0 * b0 - reflected * amplitude * amplitude;
      if (!(c < 0)) {
        edges[j] = -1;
        continue;
      }
      const half = a0 * a1 + b0 * b1;
      const load = -c / (half + Math.sqrt(half * half - (a1 * a1 + b1 * b1) * c));
      edges[j] = load;
      const current = i0 + i1 * load;
      const re = r2 * current + (4 / Math.PI) * (base + slope * load);
      const im = x2 * current;
      const square = (re * re + im * im) / (omegaM * omegaM);
      const peak = Math.sqrt(square);
      const power = 0.5 * (square * r1 + current * re) + dead * f * peak;
      const open = this.#open[j];
      const under = open * open - rs4 * power;
      supplied = under > 0 ? (open + Math.sqrt(under)) / 2 : open / 2;
      edgePeaks[j] = peak;
      edgeSupply[j] =
        under > 0 ? power / supplied + drive.idleCurrent + drive.gateCharge * f : Number.POSITIVE_INFINITY;
    }
  }

  /**
   * First node, walking down, at which a rectifier current at a rectified voltage needs no more drive than the supply gives; -1 where
   * none does. `corrected` leaves out the capacitor's phase.
   */
  firstReached(rectifierA: number, rectifiedV: number, corrected: boolean): number {
    const { drive, pickup } = this.boards;
    const pose = this.#pose;
    const l1 = pose[0];
    const l2 = pose[1];
    const m = pose[2];
    const laws1 = this.#laws1;
    const laws2 = this.#laws2;
    const fixed1 = drive.seriesCapacitorResistance + (drive.bridge === 'full' ? 2 : 1) * drive.switchResistance;
    const fixed2 = pickup.seriesCapacitorResistance + 2 * pickup.rectifier.resistance;
    const total = rectifiedV + this.drop;
    const cd = pickup.parallelCapacitance;
    const dead = 2 * DEAD_TIME_DROP_V * drive.deadTime;
    const rs4 = 4 * drive.supplyResistance;
    const full = this.fullVolt;
    const direct = (Math.PI / 2) * rectifierA;
    for (let j = 0; j < this.nodes; j++) {
      const f = this.#frequency[j];
      const omega = 2 * Math.PI * f;
      const omegaM = omega * m;
      const r1 = warmResistance(laws1, f, pose[3]) + fixed1;
      const x1 = omega * l1 - this.#x1[j];
      const current = direct + omega * cd * total;
      let vRe = (4 / Math.PI) * total;
      let vIm = 0;
      if (!corrected && cd > 0) {
        const x = current / (omega * cd);
        const c = Math.max(-1, 1 - (2 * total) / x);
        vRe *= 1 - total / x;
        vIm = -(x / Math.PI) * (Math.acos(c) - Math.sqrt(1 - c * c) * c);
      }
      const re = (warmResistance(laws2, f, pose[4]) + fixed2) * current + vRe;
      const im = (omega * l2 - this.#x2[j]) * current + vIm;
      const square2 = omegaM * omegaM;
      const square = (re * re + im * im) / square2;
      const numRe = r1 * re - x1 * im + square2 * current;
      const numIm = r1 * im + x1 * re;
      const open = this.#open[j];
      const under = open * open - rs4 * (0.5 * (square * r1 + current * re) + dead * f * Math.sqrt(square));
      if (under < 0) continue;
      const available = ((open + Math.sqrt(under)) / 2) * full * omegaM;
      if (numRe * numRe + numIm * numIm <= available * available) return j;
    }
    return -1;
  }

  /**
   * As `exactEdgeLoad` with the rectified voltage a share of the way from the target (0) down to what the regulator needs (1).
   */
  exactHeldLoad(share: number, guess: number): number {
    let load = Math.max(guess, 0);
    const at = (x: number): number => {
      const target = this.target(x);
      return this.excess(x, target + share * (this.neededBase + this.neededSlope * x - target));
    };
    for (let k = 0; k < 30; k++) {
      const h = 1e-6 * (load + 1e-2);
      const beyond = at(load + h);
      const here = at(load);
      const move = Math.min((-here * h) / (beyond - here), 0.5 + load);
      if (!(Math.abs(move) < Number.POSITIVE_INFINITY)) return -1;
      if (load === 0 && move < 0) return -1;
      load = Math.max(0, load + move);
      if (Math.abs(move) < 1e-9 * (load + 1e-2)) break;
    }
    at(load);
    return load;
  }

  /**
   * Edge load with exact waveform and sag, started at `guess`, to about `tolerance` (relative); fills `result`. Below zero where not
   * even idle reaches the voltage.
   */
  exactEdgeLoad(guess: number, tolerance = 1e-9): number {
    let load = Math.max(guess, 0);
    for (let k = 0; k < 30; k++) {
      const at = this.edge(load);
      const move = -at / this.result[SLOPE];
      if (!(move > Number.NEGATIVE_INFINITY && move < Number.POSITIVE_INFINITY)) return -1;
      const next = load + Math.min(move, 0.5 + load);
      if (next < 0) {
        if (load === 0) return -1;
        load = 0;
        continue;
      }
      if (Math.abs(move) <= tolerance * (load + 1e-2)) break;
      load = next;
    }
    if (load < FOLD_LOAD_A) {
      // A light load can be met on a branch that does not come from idle.
      if (this.edge(0) >= 0) return -1;
      this.edge(load);
    }
    return this.linear || !(load > 0) ? load : this.raised(load);
  }

  /** A constant-power load may be larger at a higher voltage, up to the target: largest of five voltages. Leaves its point in `result`. */
  private raised(atNeeded: number): number {
    const low = this.neededBase + this.neededSlope * atNeeded;
    let best = atNeeded;
    let bestVolts = low;
    for (let s = 1; s <= 4; s++) {
      const volts = low + (s / 4) * (this.target(best) - low);
      if (!(this.excess(best, volts) < 0)) continue;
      let load = best;
      for (let k = 0; k < 20; k++) {
        const h = 1e-6 * (load + 1e-2);
        const beyond = this.excess(load + h, volts);
        const at = this.excess(load, volts);
        const move = (-at * h) / (beyond - at);
        load = Math.max(0, load + Math.min(move, 0.5 + load));
        if (!(Math.abs(move) > 1e-9)) break;
      }
      if (!(load > best)) continue;
      best = load;
      bestVolts = volts;
    }
    this.excess(best, bestVolts);
    return best;
  }

  /** Excess at a load whose rectified voltage is just what the regulator needs; slope over the load in `result`. */
  private edge(load: number): number {
    const needed = this.neededBase + this.neededSlope * load;
    let slope = 1;
    if (!this.linear) {
      const { outputV, efficiency } = this.boards.pickup.regulator;
      slope = (outputV / (efficiency * needed)) * (1 - (load * this.neededSlope) / needed);
    }
    return edgeExcess(
      this.setting,
      needed + this.drop,
      this.neededSlope,
      this.demand(load, needed),
      slope,
      this.result,
    );
  }

  /**
   * One node of the last sweep with exact waveform and sag, to about 1e-3: on this a limit can be judged. Fills `edges`, `edgePeaks`,
   * `edgeSupply` there and leaves the setting at the node.
   *
   * @param guess load to start from, A.
   */
  settleNode(node: number, guess: number): void {
    const { edges, edgePeaks, edgeSupply, result } = this;
    const frequency = this.#frequency[node];
    this.aim(frequency);
    const load = this.exactEdgeLoad(guess, NODE_TOLERANCE);
    edges[node] = load;
    if (!(load >= 0)) return;
    edgePeaks[node] = result[TRANSMITTER_PEAK];
    edgeSupply[node] = result[OVERLOADED] > 0 ? Number.POSITIVE_INFINITY : this.supplyCurrent(frequency);
  }
}

function perVolt(boards: Boards, level: number): number {
  const { drive } = boards;
  const { duty, supplyFraction } = bridgeSetting(drive, level);
  const whole = fullDuty(drive);
  return ((whole === 1 ? 4 : 2) / Math.PI) * Math.sin(((whole === 1 ? 1 : 2) * Math.PI * duty) / 2) * supplyFraction;
}

function take(law: ResistanceLaw | Float64Array, index: number, out: Float64Array): void {
  if (law instanceof Float64Array) {
    for (let i = 0; i < 4; i++) out[i] = law[4 * index + i];
  } else {
    out[0] = law.dc;
    out[1] = law.linear;
    out[2] = law.quadratic;
    out[3] = law.quartic;
  }
}

function warmResistance(law: Float64Array, frequency: number, copper: number): number {
  const square = frequency * frequency;
  const value = law[0] * copper + law[1] * frequency + ((law[2] + law[3] * square) * square) / copper;
  const least = 0.02 * law[0];
  return Math.max(value, least);
}
