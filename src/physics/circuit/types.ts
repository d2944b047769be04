/** Electrical description of the link and of the boards around it. SI units. */

/**
 * Resistance against frequency: dc + linear f + quadratic f^2 + quartic f^4, ohm with f in Hz, valid inside the drive's window.
 * Stated for copper at 20 C (`RESISTANCE_REFERENCE_C`); the circuit warms `dc` with copper's temperature coefficient and lets the eddy
 * terms fall by the same factor.
 */
export interface ResistanceLaw {
  readonly dc: number;
  /** Ferrite loss, ohm/Hz. */
  readonly linear: number;
  /** Eddy loss in conductors and metal, ohm/Hz^2. */
  readonly quadratic: number;
  /** Onset of skin effect (negative curvature), ohm/Hz^4. */
  readonly quartic: number;
}

export interface LinkElectrical {
  /** Self-inductances and mutual inductance at this pose, H. The sign of the mutual inductance does not matter here. */
  readonly l1: number;
  readonly l2: number;
  readonly m: number;
  readonly r1: ResistanceLaw;
  readonly r2: ResistanceLaw;
}

export interface Drive {
  readonly supplyV: number;
  readonly supplyResistance: number;
  readonly supplyCurrentLimit: number;
  readonly bridge: 'full' | 'half';
  /** What the controller moves: frequency first then duty, or the bridge supply. */
  readonly control: 'frequency' | 'duty' | 'supply';
  readonly seriesCapacitance: number;
  readonly seriesCapacitorResistance: number;
  readonly frequencyMin: number;
  readonly frequencyMax: number;
  /** Least duty: fraction of each half cycle (full bridge, at most 1) or high-side fraction (half bridge, at most 0.5). */
  readonly dutyMin: number;
  /** Least bridge supply as a fraction of supplyV, for control 'supply'. */
  readonly supplyMinFraction: number;
  readonly switchResistance: number;
  /** rms, A */
  readonly coilCurrentLimit: number;
  readonly idleCurrent: number;
  /** C per cycle drawn from the supply at full frequency. */
  readonly gateCharge: number;
  readonly deadTime: number;
  readonly pingFrequency: number;
  readonly standbyPower: number;
}

export interface Pickup {
  readonly seriesCapacitance: number;
  readonly seriesCapacitorResistance: number;
  /** 0: none. */
  readonly parallelCapacitance: number;
  readonly wakeV: number;
  readonly rectifier: {
    readonly kind: 'synchronous' | 'diode';
    /** Per device; two conduct in series. */
    readonly dropV: number;
    readonly resistance: number;
  };
  /** Rectifier reservoir, F. */
  readonly reservoirCapacitance: number;
  readonly regulator: {
    readonly kind: 'linear' | 'switching';
    readonly outputV: number;
    readonly dropoutV: number;
    readonly dropoutResistance: number;
    readonly currentLimit: number;
    readonly idleCurrent: number;
    readonly overvoltage: number;
    /** Conversion efficiency of a switching regulator, 0..1; unused for linear. */
    readonly efficiency: number;
  };
  readonly target: { readonly lowV: number; readonly highV: number; readonly decayA: number };
  /** Optional protocol thresholds; null: stopping is not modelled. */
  readonly stop: {
    readonly minimumRectifiedV: number | null;
    readonly foreignObjectLossW: number | null;
    readonly minimumLoadA: number | null;
  } | null;
}

export interface Thermal {
  readonly ambient: number;
  /** K/W, transmitter loss to ambient. */
  readonly transmitterResistance: number;
  readonly receiverResistance: number;
  readonly receiverToCell: number;
  readonly cellToAmbient: number;
  /** Celsius limits. */
  readonly shutdown: number;
  readonly cellChargeMax: number;
  readonly touchMax: number;
}

export type LinkState =
  | 'regulated'
  | 'starved'
  | 'overfed'
  | 'overvoltage'
  | 'currentLimited'
  | 'hot'
  | 'asleep'
  | 'stopped';

export type SolverMethod = 'firstHarmonic' | 'multiHarmonic' | 'periodic';

export type Limit =
  | 'link'
  | 'regulatorCurrent'
  | 'coilCurrent'
  | 'supplyCurrent'
  /** The resistance of supply, cable and connectors lets no more power through. */
  | 'supplySag'
  | 'shutdown'
  | 'cell'
  | 'touch'
  | 'overvoltage'
  | 'asleep'
  | 'stopped';

/** What can keep the control from going further down its walk. */
export type DriveLimit = Extract<Limit, 'link' | 'coilCurrent' | 'supplyCurrent' | 'supplySag'>;

export interface Losses {
  readonly supply: number;
  readonly bridge: number;
  readonly transmitterIdle: number;
  readonly transmitterCoil: number;
  readonly receiverCoil: number;
  readonly rectifier: number;
  readonly regulator: number;
}

export interface OperatingPoint {
  readonly state: LinkState;
  readonly frequency: number;
  readonly duty: number;
  /** Bridge supply after resistance and control, V. */
  readonly bridgeV: number;
  readonly supplyA: number;
  readonly outputV: number;
  readonly outputA: number;
  readonly rectifiedV: number;
  readonly targetV: number;
  readonly efficiency: number;
  /** W; input power = sum of losses + output power. */
  readonly losses: Losses;
  readonly transmitterCoilA: number;
  readonly receiverCoilA: number;
  /**
   * Mean product of the coil currents over the product of their rms values, -1 to 1, both counted positive in the same sense of
   * turning: the field of both is I1^2 b1.b1 + 2 c I1 I2 b1.b2 + I2^2 b2.b2. 0 where one is 0.
   */
  readonly currentCorrelation: number;
  /**
   * Harmonics of the coil currents beyond the fundamental by the multi-harmonic method, rms and correlation as above; empty where that
   * method does not apply or was not asked (tier fast).
   */
  readonly harmonics: readonly {
    readonly order: number;
    readonly transmitterA: number;
    readonly receiverA: number;
    readonly correlation: number;
  }[];
  readonly transmitterCapacitorPeakV: number;
  readonly receiverCapacitorPeakV: number;
  /** Peak of the coil's own voltage (inductance times slope of its current), V. */
  readonly transmitterCoilPeakV: number;
  readonly receiverCoilPeakV: number;
  readonly receiverC: number;
  readonly cellC: number;
  /** Outside of the receiver's case. */
  readonly caseC: number;
  readonly transmitterC: number;
  readonly wakes: boolean;
  readonly wakeRectifiedV: number;
  readonly method: SolverMethod;
  /** More than one operating point was found near this one. */
  readonly severalPoints: boolean;
  /** Relative disagreement of the rectified voltage (or of the current at it) between the reported method and the check beside it. */
  readonly methodError: number;
  /** What keeps the link from its target or from its load; null where nothing does. */
  readonly limitedBy: Limit | null;
  /** How far the rectified voltage stays below its target, V; 0 where it reaches it. */
  readonly shortfallV: number;
  /** Rectified voltage the regulator needs for this load, V. */
  readonly neededV: number;
  /** Resonant voltages above 50 V peak somewhere: the usual caution for touchable voltage applies. */
  readonly highVoltage: boolean;
}

export interface MaxOutput {
  readonly current: number;
  readonly limitedBy: Limit;
  /** A further load interval exists beyond the first collapse. */
  readonly furtherBranch: boolean;
  /** Where each limit alone would stop the load, A; Infinity where it does not bind below the link's own limit. */
  readonly limits: {
    readonly link: number;
    readonly regulatorCurrent: number;
    readonly coilCurrent: number;
    readonly supplyCurrent: number;
    readonly supplySag: number;
    readonly shutdown: number;
    readonly cell: number;
    readonly touch: number;
  };
  /** Drive frequency at the limit, Hz. */
  readonly frequency: number;
  readonly method: SolverMethod;
}

/** Everything about the boards that the circuit needs beside the link. */
export interface Boards {
  readonly drive: Drive;
  readonly pickup: Pickup;
  readonly thermal: Thermal;
}
