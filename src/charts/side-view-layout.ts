import { spread } from './spread.ts';

/** A plate behind a winding. */
export interface SidePlate {
  readonly halfWidthMm: number;
  readonly thicknessMm: number;
  readonly standoffMm: number;
}

export interface SideCoil {
  /** Conductors in the cut, flat x z in the coil's own frame, mm. */
  readonly sectionMm: Float64Array;
  readonly conductorWidthMm: number;
  readonly conductorHeightMm: number;
  readonly round: boolean;
  readonly halfWidthMm: number;
  readonly halfThicknessMm: number;
  readonly ferrite: SidePlate | null;
  readonly metal: SidePlate | null;
}

export type LayerMaterial = 'wood' | 'textile' | 'plastic' | 'glass' | 'stone' | 'air';

export interface SideLayer {
  readonly name: string;
  readonly thicknessMm: number;
  readonly material: LayerMaterial;
  /** Layers of the receiver move with it. */
  readonly side: 'transmitter' | 'receiver';
}

/** The stack in section, from the transmitter up. */
export interface SideViewModel {
  readonly transmitter: SideCoil;
  readonly receiver: SideCoil;
  readonly layers: readonly SideLayer[];
  readonly gapMm: number;
  readonly offsetXMm: number;
  readonly tiltYDeg: number;
}

export type SidePart =
  | { readonly kind: 'layer'; readonly index: number }
  | { readonly kind: 'plate'; readonly side: 'transmitter' | 'receiver'; readonly what: 'ferrite' | 'metal' };

/** One slab of the section and where its label stands. */
export interface SideSlab {
  readonly part: SidePart;
  /** Slot of its label. */
  readonly slot: string;
  readonly material: LayerMaterial | 'ferrite' | 'metal';
  readonly x: number;
  readonly width: number;
  readonly y: number;
  readonly height: number;
  readonly labelY: number;
}

export interface SideLayout {
  readonly width: number;
  readonly height: number;
  readonly pxPerMm: number;
  /** Ends of the drawing proper; labels stand right of it, the gap's dimension left. */
  readonly left: number;
  readonly right: number;
  readonly x: (mm: number) => number;
  /** Height above the transmitter's mid-plane. */
  readonly y: (mm: number) => number;
  readonly slabs: readonly SideSlab[];
  readonly transmitterTop: number;
  readonly receiverBottom: number;
  readonly receiverMiddle: number;
  readonly narrow: boolean;
  readonly extent: SideExtent;
}

const LABEL_HEIGHT = 24;
/** How far the device's layers are drawn beyond its coil and plates, mm; a design does not say. */
const CASE_MM = 3;
const TOP = 40;
const BOTTOM = 8;
/** Tallest drawing, px: a thick stack is drawn at a smaller scale rather than down the page. */
const TALLEST = 440;

interface Raw {
  readonly part: SidePart;
  readonly slot: string;
  readonly material: SideSlab['material'];
  readonly from: number;
  readonly to: number;
  readonly centre: number;
  /** Infinity: as wide as the drawing. */
  readonly half: number;
}

function plates(coil: SideCoil, side: 'transmitter' | 'receiver', middle: number, centre: number): Raw[] {
  const away = side === 'transmitter' ? -1 : 1;
  const raws: Raw[] = [];
  let back = coil.halfThicknessMm;
  for (const what of ['ferrite', 'metal'] as const) {
    const plate = coil[what];
    if (!plate) continue;
    const near = back + plate.standoffMm;
    const far = near + plate.thicknessMm;
    const ends = [middle + away * near, middle + away * far];
    raws.push({
      part: { kind: 'plate', side, what },
      slot: `${side}-${what}`,
      material: what,
      from: Math.min(...ends),
      to: Math.max(...ends),
      centre,
      half: plate.halfWidthMm,
    });
    back = far;
  }
  return raws;
}

/** Half-width of the receiver with its plates, mm. */
function receiverReach({ receiver }: SideViewModel): number {
  return Math.max(receiver.halfWidthMm, receiver.ferrite?.halfWidthMm ?? 0, receiver.metal?.halfWidthMm ?? 0);
}

/** Everything of the section in mm, from the bottom up. */
function rawSlabs(model: SideViewModel): Raw[] {
  const { transmitter, receiver, layers, gapMm, offsetXMm } = model;
  const receiverMiddle = transmitter.halfThicknessMm + gapMm + receiver.halfThicknessMm;
  const raws: Raw[] = plates(transmitter, 'transmitter', 0, 0).reverse();
  const caseHalf = receiverReach(model) + CASE_MM;
  let z = transmitter.halfThicknessMm;
  layers.forEach((layer, index) => {
    const own = layer.side === 'receiver';
    raws.push({
      part: { kind: 'layer', index },
      slot: `layer-${index}`,
      material: layer.material,
      from: z,
      to: z + layer.thicknessMm,
      centre: own ? offsetXMm : 0,
      half: own ? caseHalf : Number.POSITIVE_INFINITY,
    });
    z += layer.thicknessMm;
  });
  return [...raws, ...plates(receiver, 'receiver', receiverMiddle, offsetXMm)];
}

/** Ends of what the drawing must show along x, mm; rounded, so that the scale does not breathe. */
export interface SideExtent {
  readonly fromMm: number;
  readonly toMm: number;
  /** Height of all that is drawn, mm. */
  readonly tallMm: number;
}

function extentOf(model: SideViewModel, tallMm: number): SideExtent {
  const reach = (coil: SideCoil): number =>
    Math.max(coil.halfWidthMm, coil.ferrite?.halfWidthMm ?? 0, coil.metal?.halfWidthMm ?? 0);
  const transmitter = reach(model.transmitter) + 2;
  const receiver = reach(model.receiver) + CASE_MM + 0.5;
  const x = model.offsetXMm;
  return {
    fromMm: Math.floor(Math.min(-transmitter, x - receiver) / 2) * 2,
    toMm: Math.ceil(Math.max(transmitter, x + receiver) / 2) * 2,
    tallMm,
  };
}

/**
 * Lays out the section at one true scale for widths and heights. Labels are spread so that none touches another.
 * @param held extent to keep during a drag
 */
export function sideLayout(model: SideViewModel, width: number, held?: SideExtent): SideLayout {
  const narrow = width < 430;
  const left = narrow ? 74 : 76;
  const labels = narrow ? 138 : 146;
  const raws = rawSlabs(model);
  const { transmitter, receiver, gapMm } = model;
  const receiverMiddle = transmitter.halfThicknessMm + gapMm + receiver.halfThicknessMm;
  // A tilted receiver reaches higher on one side, and lower on the other.
  const rise = Math.abs(Math.sin((model.tiltYDeg * Math.PI) / 180)) * receiverReach(model);
  const bottom = Math.min(-transmitter.halfThicknessMm, ...raws.map((raw) => raw.from));
  const lowest = Math.min(bottom, receiverMiddle - receiver.halfThicknessMm - rise);
  const highest = Math.max(receiverMiddle + receiver.halfThicknessMm, ...raws.map((raw) => raw.to)) + rise;
  const extent = held ?? extentOf(model, highest - lowest);
  const scale = Math.min((width - left - labels) / (extent.toMm - extent.fromMm), TALLEST / extent.tallMm);
  const right = left + (extent.toMm - extent.fromMm) * scale;
  const drawn = (highest - lowest) * scale;
  const height = Math.max(TOP + drawn + BOTTOM, TOP + raws.length * LABEL_HEIGHT);
  // The drawing stands in the middle of the room its labels need.
  const floor = TOP + (height - TOP - BOTTOM - drawn) / 2 + drawn;
  const x = (mm: number): number => left + (mm - extent.fromMm) * scale;
  const y = (mm: number): number => floor - (mm - lowest) * scale;
  const places = spread(
    raws.map((raw) => y((raw.from + raw.to) / 2)),
    raws.map(() => LABEL_HEIGHT),
    TOP - 22,
    height,
  );
  const slabs = raws.map((raw, i): SideSlab => {
    const x0 = Number.isFinite(raw.half) ? Math.max(left, x(raw.centre - raw.half)) : left;
    const x1 = Number.isFinite(raw.half) ? Math.min(right, x(raw.centre + raw.half)) : right;
    return {
      part: raw.part,
      slot: raw.slot,
      material: raw.material,
      x: x0,
      width: Math.max(0, x1 - x0),
      y: y(raw.to),
      height: Math.max(0, y(raw.from) - y(raw.to)),
      labelY: places[i],
    };
  });
  return {
    width,
    height,
    pxPerMm: scale,
    left,
    right,
    x,
    y,
    slabs,
    transmitterTop: transmitter.halfThicknessMm,
    receiverBottom: transmitter.halfThicknessMm + gapMm,
    receiverMiddle,
    narrow,
    extent,
  };
}
