/**
 * The design document, format 1, as the program reads it: every key present, defaults filled in.
 * The file itself may leave optional keys out; `resolve.ts` fills them and lists which it filled.
 * Numbers carry their unit in the key, as in the file.
 */

import type { DriveUnknown, PickupUnknown } from './unknown-board.ts';

export type OutlineDocument =
  | { shape: 'circle'; outerDiameterMm: number; innerDiameterMm: number }
  | {
      shape: 'roundedRectangle';
      outerWidthMm: number;
      outerHeightMm: number;
      innerWidthMm: number;
      innerHeightMm: number;
      outerCornerRadiusMm: number;
      innerCornerRadiusMm: number | null;
    }
  | { shape: 'stadium'; outerWidthMm: number; outerHeightMm: number; innerWidthMm: number; innerHeightMm: number }
  | { shape: 'path'; pointsMm: [number, number][]; pitchMm: number };

export type PlateOutlineDocument =
  | { shape: 'circle'; outerDiameterMm: number }
  | { shape: 'roundedRectangle'; outerWidthMm: number; outerHeightMm: number; outerCornerRadiusMm: number }
  | { shape: 'stadium'; outerWidthMm: number; outerHeightMm: number };

export type ConductorDocument =
  | { kind: 'litz'; strands: number; strandDiameterMm: number; bundleDiameterMm: number }
  | { kind: 'solid'; diameterMm: number; insulatedDiameterMm: number }
  | { kind: 'trace'; widthMm: number; thicknessMm: number };

export interface CoilDocument {
  outline: OutlineDocument;
  /** Over all layers. Whole for rings; a spiral may have a fraction. */
  turns: number;
  layers: number;
  layerPitchMm: number;
  filars: number;
  winding: 'rings' | 'spiral';
  conductor: ConductorDocument;
  /** Measured alone, with its ferrite; null: computed. */
  inductanceUh: number | null;
  resistanceMohm: number | null;
  inductanceTolerancePercent: number;
}

export interface FerriteDocument {
  outline: PlateOutlineDocument;
  thicknessMm: number;
  standoffMm: number;
  standoffToleranceMm: number;
  relativePermeability: number;
  relativePermeabilityTolerancePercent: number;
  lossTangent: number;
  saturationMt: number;
}

export interface MetalDocument {
  outline: PlateOutlineDocument;
  thicknessMm: number;
  standoffMm: number;
  conductivityMsPerM: number;
}

export interface DriveDocument {
  supplyV: number;
  supplyTolerancePercent: number;
  supplyResistanceOhm: number;
  supplyCurrentLimitA: number;
  bridge: 'full' | 'half';
  control: 'frequency' | 'duty' | 'supply';
  supplyMinFraction: number;
  seriesCapacitanceNf: number;
  seriesCapacitanceTolerancePercent: number;
  seriesCapacitorResistanceOhm: number;
  frequencyMinKhz: number;
  frequencyMaxKhz: number;
  frequencyTolerancePercent: number;
  dutyMin: number;
  switchResistanceOhm: number;
  coilCurrentLimitA: number;
  idleCurrentA: number;
  gateChargeNc: number;
  deadTimeNs: number;
  pingKhz: number;
  standbyW: number;
  /** What is not known of the board: the stated values are guesses then. */
  unknown: DriveUnknown[];
}

export interface PickupDocument {
  seriesCapacitanceNf: number;
  seriesCapacitanceTolerancePercent: number;
  seriesCapacitorResistanceOhm: number;
  parallelCapacitanceNf: number;
  reservoirCapacitanceUf: number;
  wakeV: number;
  rectifier: { kind: 'synchronous' | 'diode'; dropV: number; resistanceOhm: number };
  regulator: {
    kind: 'linear' | 'switching';
    outputV: number;
    dropoutV: number;
    dropoutOhm: number;
    currentLimitA: number;
    idleCurrentA: number;
    overvoltageV: number;
    efficiency: number;
  };
  target: { lowV: number; highV: number; decayA: number };
  /** Thresholds of boards that stop by protocol; null: not modelled. */
  stop: { minimumRectifiedV: number | null; foreignObjectLossW: number | null; minimumLoadA: number | null } | null;
  /** What is not known of the board: the stated values are guesses then. */
  unknown: PickupUnknown[];
}

export interface StackLayerDocument {
  name: string;
  thicknessMm: number;
  toleranceMm: number;
}

/** One leg of a feedback divider: (resistor + series + used part of the trimmer) beside the parallel resistor. */
export interface LegDocument {
  resistorKohm: number;
  seriesKohm: number;
  parallelKohm: number | null;
  trimmerKohm: number;
  /** Share of the trimmer's track in use, 0..1. */
  trimmerTurn: number;
}

/** What sets an adjustable converter's output: reference (1 + top / bottom). */
export interface FeedbackDocument {
  referenceV: number;
  referenceTolerancePercent: number;
  resistorTolerancePercent: number;
  top: LegDocument;
  bottom: LegDocument;
}

export interface BoostDocument {
  kind: 'boost';
  outputV: number;
  efficiency: number;
  /** Resistance of the source in front of the converter, ohm; behind a cell the cell's own counts. */
  sourceResistanceOhm: number;
  switchBefore: boolean;
  idleCurrentA: number;
  feedback: FeedbackDocument | null;
}

export interface ChargerDocument {
  kind: 'charger';
  topology: 'linear' | 'switching';
  efficiency: number;
  setCurrentA: number;
  foldbackC: number;
  resistanceKPerW: number;
}

export interface CellDocument {
  kind: 'cell';
  capacityAh: number;
  voltageV: number;
  resistanceOhm: number;
  chargeVoltageV: number;
  cutoffA: number;
  emptyV: number;
  /** Pairs of charge (0..1) and voltage at rest; empty: a straight line from `emptyV` to the charge voltage. */
  restV: [number, number][];
  selfDischargePercentPerMonth: number;
}

/** One step between the receiver's output and a load. */
export type ChainStepDocument = BoostDocument | ChargerDocument | CellDocument;

export interface LoadDocument {
  name: string;
  kind: 'idle' | 'typical' | 'peak' | 'charging';
  atV: number;
  currentA: number;
  /** Peaks only; 0 otherwise. */
  durationMs: number;
  /** Hours of use in a day, for the energy balance. */
  hoursPerDay: number;
  through: ChainStepDocument[];
  alongside: string[];
  /** Peaks: the dip that the load bears, V, and the series resistance of the capacitor that carries it. */
  droopV: number;
  capacitorResistanceOhm: number;
}

export interface RecessDocument {
  outline: PlateOutlineDocument;
  /** Clear play on each side between device and pocket. */
  clearanceMm: number;
  pocketToleranceMm: number;
  deviceToleranceMm: number;
  coilPositionToleranceMm: number;
  draftDeg: number;
}

/** How a casual placement scatters about the resting place; which keys count is for `kind` to say. */
export interface PlacingDocument {
  /** Bell curves, even over a disc or a rectangle, or the user's own list. */
  kind: 'gaussian' | 'disc' | 'rectangle' | 'list';
  sigmaXMm: number;
  sigmaYMm: number;
  sigmaYawDeg: number;
  /** Of the disc. */
  radiusMm: number;
  /** Of the rectangle, from its middle. */
  halfXMm: number;
  halfYMm: number;
  /** Turns lie evenly within this, either way; disc and rectangle. */
  halfYawDeg: number;
  placements: { xMm: number; yMm: number; yawDeg: number }[];
}

export interface MagnetsDocument {
  /** Centres of the pairs in the receiver's plane. */
  positionsMm: [number, number][];
  diameterMm: number;
  thicknessMm: number;
  remanenceT: number;
  /** Faced by another disc, or by a steel disc. */
  facing: 'magnet' | 'steel';
  gapMm: number;
}

export interface ReadingDocument {
  supplyV: number;
  supplyA: number | null;
  outputV: number | null;
  outputA: number | null;
  gapMm: number;
  offsetXMm: number;
  offsetYMm: number;
  frequencyKhz: number | null;
  rectifiedV: number | null;
  receiverC: number | null;
  transmitterC: number | null;
  regulated: boolean;
}

export interface Design {
  format: 'offcentre-design';
  version: 1;
  title: string;
  notes: string;
  transmitter: {
    coil: CoilDocument;
    ferrite: FerriteDocument | null;
    metal: MetalDocument | null;
    furtherCoils: { xMm: number; yMm: number; heightStepMm: number }[];
    drive: DriveDocument;
    thermal: { resistanceKPerW: number };
  };
  receiver: {
    coil: CoilDocument;
    ferrite: FerriteDocument | null;
    metal: MetalDocument | null;
    pickup: PickupDocument;
    /** True over computed coupling. */
    couplingFactor: number;
    thermal: {
      resistanceKPerW: number;
      shutdownC: number;
      toCellKPerW: number;
      cellToAmbientKPerW: number;
      cellChargeMaxC: number;
      touchMaxC: number;
    };
  };
  placement: {
    gapMm: number;
    offsetXMm: number;
    offsetYMm: number;
    yawDeg: number;
    tiltXDeg: number;
    tiltYDeg: number;
  };
  stack: StackLayerDocument[];
  demand: {
    ambientC: number;
    wantedMarginPercent: number;
    /** Clear distance between coils and plates and the person whose exposure to the field is judged. */
    exposureDistanceMm: number;
    loads: LoadDocument[];
    dock: { hoursPerDay: number };
    /** Between the cell and the loads while the device is off its dock. */
    away: { through: BoostDocument[] };
  };
  holding: {
    recess: RecessDocument | null;
    magnets: MagnetsDocument | null;
    deviceMassG: number;
    friction: number;
    tableAngleDeg: number;
    placing: PlacingDocument;
  };
  meters: { voltagePercent: number; voltageCountsMv: number; currentPercent: number; currentCountsMa: number };
  readings: ReadingDocument[];
  /** Not in the file: the paths that took a default, for the error bars (`guessAt` says how far each may be off). */
  assumed?: readonly string[];
}
