/**
 * Answers of the analysis layer: plain, cloneable data (numbers, strings, typed arrays), so that they cross a worker
 * boundary unchanged. SI units unless the name says otherwise.
 */
import type { Limit, LinkState, Losses, MaxOutput, OperatingPoint, SolverMethod } from '../physics/circuit/types.ts';
import type { SupplyShare } from './supply/supply-share.ts';

/** Value with the half-width of its uncertainty: numerical error and input tolerances combined, 95 %. */
export interface Uncertain {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export interface LinkAnswer {
  readonly transmitterInductanceH: number;
  readonly receiverInductanceH: number;
  readonly mutualInductanceH: number;
  readonly coupling: number;
  readonly transmitterResistanceOhm: number;
  readonly receiverResistanceOhm: number;
  readonly transmitterQ: number;
  readonly receiverQ: number;
  readonly atFrequencyHz: number;
  readonly linkEfficiencyLimit: number;
  readonly optimalLoadOhm: number;
  /** Numerical error of the model, half-widths. */
  readonly errors: {
    readonly mutualInductanceH: number;
    readonly transmitterInductanceH: number;
    readonly receiverInductanceH: number;
    readonly coupling: number;
  };
  readonly air: {
    readonly transmitterInductanceH: number;
    readonly receiverInductanceH: number;
    readonly mutualInductanceH: number;
    readonly coupling: number;
  };
  /** Coupling with the input tolerances as well. */
  readonly couplingBand: Uncertain;
}

export interface OperatingAnswer {
  readonly state: LinkState;
  /** Plain words: what happens and what to change. */
  readonly sentence: string;
  readonly frequencyHz: number;
  readonly duty: number;
  readonly supplyA: number;
  readonly outputV: number;
  readonly outputA: number;
  readonly rectifiedV: number;
  readonly targetV: number;
  /** What the regulator needs for this load, and what is missing to the target. */
  readonly neededV: number;
  readonly shortfallV: number;
  /** What keeps the link from its target or its load; null: nothing. */
  readonly limitedBy: Limit | null;
  /** Lost in supply, cable and connectors. */
  readonly sagV: number;
  readonly efficiency: number;
  /** W */
  readonly losses: Losses;
  readonly transmitterCoilARms: number;
  readonly receiverCoilARms: number;
  /** Mean product of the coil currents over the product of their rms values, -1 to 1, both counted in the same sense of turning. */
  readonly currentCorrelation: number;
  /** Harmonics of both coil currents, as far as the method gives them. */
  readonly harmonics: OperatingPoint['harmonics'];
  readonly transmitterCapacitorVPeak: number;
  readonly receiverCapacitorVPeak: number;
  /** Bounds, never low. */
  readonly transmitterCoilVPeak: number;
  readonly receiverCoilVPeak: number;
  /** Some resonant part is above 50 V peak: say the caution where its number stands. */
  readonly highVoltage: boolean;
  readonly receiverC: number;
  readonly cellC: number;
  /** Outside of the receiver's case. */
  readonly caseC: number;
  readonly transmitterC: number;
  readonly wakes: boolean;
  readonly wakeRectifiedV: number;
  readonly method: SolverMethod;
  readonly methodError: number;
  /** The method and its check in words. */
  readonly methodWords: string;
  /** More than one operating point fits this load; `notes` explains. */
  readonly severalPoints: boolean;
}

export interface PeakAnswer {
  readonly name: string;
  readonly demandA: number;
  readonly maxOutputA: number;
  readonly marginPercent: number;
}

export interface MarginAnswer {
  readonly maxOutputA: number;
  readonly maxOutputBand: Uncertain;
  readonly demandA: number;
  readonly demandNames: readonly string[];
  readonly marginPercent: number;
  readonly marginBandPercent: Uncertain;
  readonly marginW: number;
  readonly limitedBy: Limit;
  /** Where each limit alone would end it, A; Infinity where it does not bind. */
  readonly limits: MaxOutput['limits'];
  /** Larger loads are carried again beyond a gap. */
  readonly furtherBranch: boolean;
  readonly supply: SupplyShare;
  readonly peaks: readonly PeakAnswer[];
}

/** Everything about one pose. */
export interface PoseAnswer {
  readonly link: LinkAnswer;
  readonly operatingPoint: OperatingAnswer;
  readonly margin: MarginAnswer;
  /** Ranked: relative change of maxOutputA for each uncertain input at the edge of its tolerance. */
  readonly sensitivity: readonly {
    readonly name: string;
    readonly path: string;
    readonly tolerance: string;
    readonly changePercent: number;
  }[];
  /** What must be said beside the numbers: several operating points, touch, what is not modelled. */
  readonly notes: readonly string[];
  readonly cautions: readonly string[];
}

/** Margin over sideways offset at one gap, yaw and tilt. Arrays are row-major [yIndex * xMm.length + xIndex]. */
export interface OffsetMap {
  readonly gapMm: number;
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  readonly maxOutputA: Float64Array;
  /** The same for a short load, for which heat does not count. */
  readonly peakOutputA: Float64Array;
  readonly marginPercent: Float64Array;
  readonly coupling: Float64Array;
  readonly mutualInductanceH: Float64Array;
  /** 1 where the receiver reaches its wake voltage at ping. */
  readonly wakes: Uint8Array;
  readonly demandA: number;
  readonly wantedMarginPercent: number;
  /** Closed rings, mm, flat x y; outer boundary first, holes after. The safe region is where all conditions hold. */
  readonly safeOutline: readonly Float64Array[];
  /** Rings of zero margin (collapse). */
  readonly collapseOutline: readonly Float64Array[];
  readonly wakeOutline: readonly Float64Array[];
  /** Radius of the largest disc about the resting place inside the safe region; 0 where the centre is unsafe. */
  readonly reachMm: Uncertain;
  /** Largest disc with margin above zero that also wakes. */
  readonly holdReachMm: number;
  readonly wakeReachMm: number;
  /** Where the centre is a hole: the offset at which the safe region starts; else 0. */
  readonly innerLimitMm: number;
  /** One per peak load: radius of the largest disc where the peak is carried. */
  readonly peakReachMm: readonly { readonly name: string; readonly reachMm: number }[];
  /** Angle (degrees from +x) in which the reach ends first. */
  readonly tightestDeg: number;
  /** Made from a rough link model and without the exact circuit's checks: to be replaced. */
  readonly firstLook?: boolean;
  readonly timing: {
    readonly linkModelMs: number;
    readonly gridMs: number;
    readonly circuitMs: number;
    readonly totalMs: number;
  };
}

export type SweepAxis = 'gap' | 'offsetX' | 'offsetY' | 'yaw' | 'tiltX' | 'tiltY';

/**
 * Margin along a line. Its current is the exact circuit's at nine to some thirty of its points, those near collapse among them, and first
 * harmonic plus a difference read between these at the others; efficiency and frequency are the first harmonic's except where the two
 * circuits disagree on whether the demand is carried.
 */
export interface LineSweep {
  readonly axis: SweepAxis;
  /** mm, or degrees for yaw and tilt. */
  readonly at: Float64Array;
  readonly maxOutputA: Float64Array;
  readonly marginPercent: Float64Array;
  readonly marginLowPercent: Float64Array;
  readonly marginHighPercent: Float64Array;
  readonly coupling: Float64Array;
  readonly mutualInductanceH: Float64Array;
  readonly transmitterInductanceH: Float64Array;
  readonly receiverInductanceH: Float64Array;
  readonly efficiency: Float64Array;
  readonly frequencyHz: Float64Array;
  /** null where the pose cannot be, or not be solved; its numbers are NaN. */
  readonly states: readonly (LinkState | null)[];
  readonly demandA: number;
  /** Made from a rough link model or without the exact circuit: to be replaced. */
  readonly firstLook?: boolean;
}

/** k and margin while dragging: first-harmonic circuit on the quickest link values at hand. */
export interface QuickAnswer {
  readonly coupling: number;
  readonly mutualInductanceH: number;
  readonly maxOutputA: number;
  readonly marginPercent: number;
  /** 'model' from the link model; 'direct' from the plates' coarse grids at this pose. */
  readonly from: 'model' | 'direct';
}
