/** From the document's units to the physics' SI units and radians: the only place where a design is converted. */
import type { Boards, Drive, Pickup, Thermal } from '../physics/circuit/types.ts';
import type { CoilOutline, CoilSpec, Conductor, PlateOutline, Pose, Winding } from '../physics/coil/types.ts';
import type { FerritePlate, MetalSheet } from '../physics/field/types.ts';
import type {
  CoilDocument,
  ConductorDocument,
  Design,
  DriveDocument,
  FerriteDocument,
  MetalDocument,
  OutlineDocument,
  PickupDocument,
  PlateOutlineDocument,
} from './types.ts';

/** Divides rather than multiplies by the inverse, so that 5.9 mm is the double nearest to 0.0059 m. */
const milli = (value: number) => value / 1e3;
const micro = (value: number) => value / 1e6;
const nano = (value: number) => value / 1e9;
const radians = (degrees: number) => (degrees * Math.PI) / 180;

function outlineOf(outline: OutlineDocument): CoilOutline {
  switch (outline.shape) {
    case 'circle':
      return {
        shape: 'circle',
        outerDiameter: milli(outline.outerDiameterMm),
        innerDiameter: milli(outline.innerDiameterMm),
      };
    case 'path':
      return {
        shape: 'path',
        points: Float64Array.from(outline.pointsMm.flat(), milli),
        pitch: milli(outline.pitchMm),
      };
    default: {
      const sizes = {
        outerWidth: milli(outline.outerWidthMm),
        outerHeight: milli(outline.outerHeightMm),
        innerWidth: milli(outline.innerWidthMm),
        innerHeight: milli(outline.innerHeightMm),
      };
      if (outline.shape === 'stadium') return { shape: 'stadium', ...sizes };
      return {
        shape: 'roundedRectangle',
        ...sizes,
        outerCornerRadius: milli(outline.outerCornerRadiusMm),
        innerCornerRadius: outline.innerCornerRadiusMm === null ? null : milli(outline.innerCornerRadiusMm),
      };
    }
  }
}

function plateOutlineOf(outline: PlateOutlineDocument): PlateOutline {
  if (outline.shape === 'circle') return { shape: 'circle', diameter: milli(outline.outerDiameterMm) };
  const sizes = { width: milli(outline.outerWidthMm), height: milli(outline.outerHeightMm) };
  return outline.shape === 'stadium'
    ? { shape: 'stadium', ...sizes }
    : { shape: 'roundedRectangle', ...sizes, cornerRadius: milli(outline.outerCornerRadiusMm) };
}

function conductorOf(conductor: ConductorDocument): Conductor {
  switch (conductor.kind) {
    case 'litz':
      return {
        kind: 'litz',
        strands: conductor.strands,
        strandDiameter: milli(conductor.strandDiameterMm),
        bundleDiameter: milli(conductor.bundleDiameterMm),
      };
    case 'solid':
      return {
        kind: 'solid',
        diameter: milli(conductor.diameterMm),
        insulatedDiameter: milli(conductor.insulatedDiameterMm),
      };
    default:
      return { kind: 'trace', width: milli(conductor.widthMm), thickness: milli(conductor.thicknessMm) };
  }
}

/** @param leadSide side on which a spiral's return lead crosses: -1 a transmitter's back, +1 a receiver's back. */
export function coilSpecOf(coil: CoilDocument, leadSide: -1 | 1): CoilSpec {
  return {
    leadSide,
    outline: outlineOf(coil.outline),
    turns: coil.turns,
    layers: coil.layers,
    layerPitch: milli(coil.layerPitchMm),
    filars: coil.filars,
    winding: coil.winding,
    conductor: conductorOf(coil.conductor),
  };
}

export function ferriteOf(ferrite: FerriteDocument): FerritePlate;
export function ferriteOf(ferrite: FerriteDocument | null): FerritePlate | null;
export function ferriteOf(ferrite: FerriteDocument | null): FerritePlate | null {
  if (ferrite === null) return null;
  return {
    outline: plateOutlineOf(ferrite.outline),
    thickness: milli(ferrite.thicknessMm),
    standoff: milli(ferrite.standoffMm),
    relativePermeability: ferrite.relativePermeability,
    lossTangent: ferrite.lossTangent,
  };
}

export function metalOf(metal: MetalDocument): MetalSheet;
export function metalOf(metal: MetalDocument | null): MetalSheet | null;
export function metalOf(metal: MetalDocument | null): MetalSheet | null {
  if (metal === null) return null;
  return {
    outline: plateOutlineOf(metal.outline),
    thickness: milli(metal.thicknessMm),
    standoff: milli(metal.standoffMm),
    conductivity: metal.conductivityMsPerM * 1e6,
  };
}

function driveOf(drive: DriveDocument): Drive {
  return {
    supplyV: drive.supplyV,
    supplyResistance: drive.supplyResistanceOhm,
    supplyCurrentLimit: drive.supplyCurrentLimitA,
    bridge: drive.bridge,
    control: drive.control,
    seriesCapacitance: nano(drive.seriesCapacitanceNf),
    seriesCapacitorResistance: drive.seriesCapacitorResistanceOhm,
    frequencyMin: drive.frequencyMinKhz * 1e3,
    frequencyMax: drive.frequencyMaxKhz * 1e3,
    dutyMin: drive.dutyMin,
    supplyMinFraction: drive.supplyMinFraction,
    switchResistance: drive.switchResistanceOhm,
    coilCurrentLimit: drive.coilCurrentLimitA,
    idleCurrent: drive.idleCurrentA,
    gateCharge: nano(drive.gateChargeNc),
    deadTime: nano(drive.deadTimeNs),
    pingFrequency: drive.pingKhz * 1e3,
    standbyPower: drive.standbyW,
  };
}

function pickupOf(pickup: PickupDocument): Pickup {
  const { regulator, rectifier } = pickup;
  return {
    seriesCapacitance: nano(pickup.seriesCapacitanceNf),
    seriesCapacitorResistance: pickup.seriesCapacitorResistanceOhm,
    parallelCapacitance: nano(pickup.parallelCapacitanceNf),
    wakeV: pickup.wakeV,
    rectifier: { kind: rectifier.kind, dropV: rectifier.dropV, resistance: rectifier.resistanceOhm },
    reservoirCapacitance: micro(pickup.reservoirCapacitanceUf),
    regulator: {
      kind: regulator.kind,
      outputV: regulator.outputV,
      dropoutV: regulator.dropoutV,
      dropoutResistance: regulator.dropoutOhm,
      currentLimit: regulator.currentLimitA,
      idleCurrent: regulator.idleCurrentA,
      overvoltage: regulator.overvoltageV,
      efficiency: regulator.efficiency,
    },
    target: { ...pickup.target },
    stop: pickup.stop === null ? null : { ...pickup.stop },
  };
}

function thermalOf(design: Design): Thermal {
  const receiver = design.receiver.thermal;
  return {
    ambient: design.demand.ambientC,
    transmitterResistance: design.transmitter.thermal.resistanceKPerW,
    receiverResistance: receiver.resistanceKPerW,
    receiverToCell: receiver.toCellKPerW,
    cellToAmbient: receiver.cellToAmbientKPerW,
    shutdown: receiver.shutdownC,
    cellChargeMax: receiver.cellChargeMaxC,
    touchMax: receiver.touchMaxC,
  };
}

export function boardsOf(design: Design): Boards {
  return {
    drive: driveOf(design.transmitter.drive),
    pickup: pickupOf(design.receiver.pickup),
    thermal: thermalOf(design),
  };
}

/**
 * Where the receiver's winding sits: z between the mid-planes is the gap plus half of each winding's thickness.
 *
 * @param transmitter @param receiver the windings of the same design.
 */
export function poseOf(
  design: Design,
  transmitter: Pick<Winding, 'halfThickness'>,
  receiver: Pick<Winding, 'halfThickness'>,
): Pose {
  const placement = design.placement;
  return {
    x: milli(placement.offsetXMm),
    y: milli(placement.offsetYMm),
    z: milli(placement.gapMm) + transmitter.halfThickness + receiver.halfThickness,
    yaw: radians(placement.yawDeg),
    tiltX: radians(placement.tiltXDeg),
    tiltY: radians(placement.tiltYDeg),
  };
}
