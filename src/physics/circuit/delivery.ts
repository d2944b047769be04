import type { Setting } from './board-model.ts';
import type { SolverMethod } from './types.ts';

/** What the link does at one setting with the rectified voltage held: self-consistent with the supply's resistance. SI, rms unless named peak. */
export interface Delivery {
  readonly setting: Setting;
  readonly rectifiedV: number;
  /** Current into the reservoir. */
  readonly rectifierA: number;
  readonly transmitterA: number;
  readonly receiverA: number;
  /**
   * Mean of the product of both currents, A^2, for a positive mutual inductance, the receiver's counted as it leaves its coil: with
   * both rms values it gives the rms of any sum of their fields, harmonics included.
   */
  readonly currentProduct: number;
  readonly transmitterPeakA: number;
  readonly receiverPeakA: number;
  readonly transmitterCapacitorPeakV: number;
  readonly receiverCapacitorPeakV: number;
  /** Power out of the ideal bridge, W: losses in its switches are inside. */
  readonly linkW: number;
  readonly rectifierLoss: number;
  /** Loss of the parallel capacitor's ringing in the coils, W. */
  readonly ringingLoss: number;
  /** Loop resistances used, ohm. */
  readonly transmitterOhm: number;
  readonly receiverOhm: number;
  readonly deadTimeW: number;
  /** Supply after its resistance, and its current. */
  readonly suppliedV: number;
  readonly supplyA: number;
  readonly overloaded: boolean;
  readonly method: SolverMethod;
}

/** Nothing flows, and no setting is known: even a short circuit at the rectifier does not draw the load. */
export const NO_DELIVERY: Delivery = Object.freeze({
  setting: Object.freeze({ frequency: Number.NaN, level: 1 }),
  rectifiedV: 0,
  rectifierA: 0,
  transmitterA: 0,
  receiverA: 0,
  currentProduct: 0,
  transmitterPeakA: 0,
  receiverPeakA: 0,
  transmitterCapacitorPeakV: 0,
  receiverCapacitorPeakV: 0,
  linkW: 0,
  rectifierLoss: 0,
  ringingLoss: 0,
  transmitterOhm: 0,
  receiverOhm: 0,
  deadTimeW: 0,
  suppliedV: 0,
  supplyA: 0,
  overloaded: false,
  method: 'firstHarmonic',
} as const);

/** A way to solve the link: first harmonic or periodic steady state. */
export interface LinkTier {
  readonly method: SolverMethod;
  /** Samples of the frequency window before refining. */
  readonly scan: number;
  /** Refinement: relative tolerance of currents. */
  readonly tolerance: number;
  /** Current into a held rectified voltage. `final`: to full accuracy, for a reported point. */
  deliver(setting: Setting, rectifiedV: number, final?: boolean): Delivery;
  /** Rectified voltage at which the link delivers `rectifierA(V)`, the highest (stable) one; null where it cannot. */
  settle(setting: Setting, demand: (rectifiedV: number) => number, guessV: number, final?: boolean): Delivery | null;
}
