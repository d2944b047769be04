import type {
  CoilDocument,
  Design,
  FerriteDocument,
  OutlineDocument,
  PlateOutlineDocument,
} from '../../design/types.ts';
import { windingFaults } from '../../design/wind.ts';
import { faultLine } from '../../numerics/errors.ts';
import { conductorWidthMm, openingArea, outerArea, outerBox, wiresAcross } from './outline-size.ts';

export type RivalKind = 'own' | 'sameArea' | 'sameBox' | 'matchedTransmitter' | 'kept';

/** One pair to be compared: a whole design, and how it came about. */
export interface Candidate {
  readonly id: string;
  readonly kind: RivalKind;
  readonly name: string;
  /** How it was made, in a sentence. */
  readonly note: string;
  readonly design: Design;
}

export interface RefusedRival {
  readonly kind: RivalKind;
  readonly name: string;
  readonly reason: string;
}

export interface Rivals {
  readonly candidates: readonly Candidate[];
  /** Rivals that cannot be wound, and why. */
  readonly refused: readonly RefusedRival[];
}

export interface RivalsRequest {
  readonly design: Design;
  /** Designs that the user keeps beside it, as they are; at most six. */
  readonly kept: readonly { readonly name: string; readonly design: Design }[];
}

/** Corner radius of a square made to rival a round coil, as a share of its side: common practice, no source. */
const SQUARE_CORNER = 0.25;

/**
 * The design and its fair rivals. Every rival keeps turns, layers and conductor of the coil it replaces, the boards, the
 * stack and the placement; series capacitors are matched to its inductances later (`retuned`).
 *
 * - same area: the receiver's outer edge and its opening enclose exactly the areas they enclose now, as circles (where the
 *   receiver is round: as a square with round corners, the question turned about); the opening is smaller where the turns
 *   would not fit;
 * - same box: the largest round coil in the receiver's box, its band as wide as the receiver's narrower one;
 * - matched transmitter: the transmitter takes the receiver's outline, outer edge for outer edge.
 *
 * Ferrites: a receiver of the same box keeps its plate. Elsewhere the plate follows the coil with the overhang it has now
 * (the mean of both sides), same thickness, standoff and material.
 */
export function rivalsOf(design: Design): Rivals {
  const candidates: Candidate[] = [{ id: 'own', kind: 'own', name: 'This pair', note: 'The design as it is.', design }];
  const refused: RefusedRival[] = [];
  const add = (kind: RivalKind, name: string, note: string, rival: Design | string): void => {
    if (typeof rival === 'string') {
      refused.push({ kind, name, reason: rival });
      return;
    }
    const faults = windingFaults(rival);
    if (faults.length > 0) refused.push({ kind, name, reason: `It cannot be wound: ${faultLine(faults[0]!)}` });
    else candidates.push({ id: kind, kind, name, note, design: rival });
  };
  const receiver = design.receiver.coil;
  const round = receiver.outline.shape === 'circle';
  const sameArea = round ? squareOfArea(receiver) : circleOfArea(receiver);
  add(
    'sameArea',
    round ? 'Square receiver, same area' : 'Round receiver, same area',
    areaNote(receiver, sameArea),
    withReceiver(design, sameArea, true),
  );
  const { widthMm, heightMm } = outerBox(receiver);
  if (!round) {
    add(
      'sameBox',
      'Round receiver, same box',
      `The largest round coil in the receiver’s ${plain(widthMm)} × ${plain(heightMm)} mm.`,
      withReceiver(design, circleInBox(receiver), false),
    );
  }
  if (!sameOutline(design)) {
    add(
      'matchedTransmitter',
      round ? 'Transmitter of the receiver’s size' : 'Transmitter of the receiver’s shape',
      `The transmitter takes the receiver’s outline, ${plain(widthMm)} × ${plain(heightMm)} mm.`,
      matchedTransmitter(design),
    );
  }
  return { candidates, refused };
}

function areaNote(coil: CoilDocument, outline: OutlineDocument): string {
  const opening = openingArea(coil);
  const same = openingArea({ ...coil, outline }) > opening * (1 - 1e-9);
  const edge = `The outer edge encloses the same ${outerArea(coil.outline).toFixed(0)} mm²`;
  return same
    ? `${edge} as the receiver’s, the opening the same ${opening.toFixed(0)} mm².`
    : `${edge} as the receiver’s; the opening is as large as the turns leave it.`;
}

function plain(value: number): string {
  return String(Number(value.toPrecision(4)));
}

/** Circle whose edge and opening have the areas of the coil's; the opening smaller where the turns would not fit. */
function circleOfArea(coil: CoilDocument): OutlineDocument {
  const outer = 2 * Math.sqrt(outerArea(coil.outline) / Math.PI);
  const inner = 2 * Math.sqrt(openingArea(coil) / Math.PI);
  return { shape: 'circle', outerDiameterMm: outer, innerDiameterMm: openingFor(coil, outer, inner) };
}

function squareOfArea(coil: CoilDocument): OutlineDocument {
  // side^2 (1 - (4 - pi) c^2) is the area of a square whose corner radius is c times its side.
  const share = 1 - (4 - Math.PI) * SQUARE_CORNER ** 2;
  const side = Math.sqrt(outerArea(coil.outline) / share);
  const inner = openingFor(coil, side, Math.sqrt(openingArea(coil) / share));
  return {
    shape: 'roundedRectangle',
    outerWidthMm: side,
    outerHeightMm: side,
    innerWidthMm: inner,
    innerHeightMm: inner,
    outerCornerRadiusMm: SQUARE_CORNER * side,
    innerCornerRadiusMm: SQUARE_CORNER * inner,
  };
}

function circleInBox(coil: CoilDocument): OutlineDocument {
  const { widthMm, heightMm } = outerBox(coil);
  const outer = Math.min(widthMm, heightMm);
  return {
    shape: 'circle',
    outerDiameterMm: outer,
    innerDiameterMm: openingFor(coil, outer, outer - 2 * bandOf(coil)),
  };
}

/** The narrower of a winding's two bands (outer edge to opening), mm. */
function bandOf(coil: CoilDocument): number {
  const { outline } = coil;
  if (outline.shape === 'circle') return (outline.outerDiameterMm - outline.innerDiameterMm) / 2;
  if (outline.shape === 'path') {
    return (wiresAcross(coil) - 1) * (outline.pitchMm / coil.filars) + conductorWidthMm(coil);
  }
  return Math.min(outline.outerWidthMm - outline.innerWidthMm, outline.outerHeightMm - outline.innerHeightMm) / 2;
}

/** An opening that leaves room for the turns; a single wire fills its band. */
function openingFor(coil: CoilDocument, outer: number, wanted: number): number {
  const across = wiresAcross(coil);
  const most = outer - 2 * across * conductorWidthMm(coil);
  return across === 1 ? most : Math.min(wanted, most);
}

function withReceiver(design: Design, outline: OutlineDocument, plateFollows: boolean): Design | string {
  const { receiver } = design;
  const opening = outline.shape === 'circle' ? outline.innerDiameterMm : 0;
  if (opening < 0) return 'Its turns do not fit: nothing would be left of the opening.';
  const ferrite =
    plateFollows && receiver.ferrite ? followingPlate(receiver.ferrite, receiver.coil, outline) : receiver.ferrite;
  return { ...design, receiver: { ...receiver, ferrite, coil: reshaped(receiver.coil, outline) } };
}

/** The coil in another outline. What was measured on the old one says nothing about the new one. */
export function reshaped(coil: CoilDocument, outline: OutlineDocument): CoilDocument {
  return { ...coil, outline, inductanceUh: null, resistanceMohm: null };
}

function sameOutline({ transmitter, receiver }: Design): boolean {
  const a = outerBox(transmitter.coil);
  const b = outerBox(receiver.coil);
  return (
    transmitter.coil.outline.shape === receiver.coil.outline.shape &&
    Math.abs(a.widthMm - b.widthMm) < 1e-6 &&
    Math.abs(a.heightMm - b.heightMm) < 1e-6
  );
}

function matchedTransmitter(design: Design): Design | string {
  const { transmitter, receiver } = design;
  const outline = matchedOutline(transmitter.coil, receiver.coil);
  if (outline === null)
    return 'A free outline is not carried over to the transmitter: its turns follow from its own path.';
  const ferrite = transmitter.ferrite ? followingPlate(transmitter.ferrite, transmitter.coil, outline) : null;
  return { ...design, transmitter: { ...transmitter, ferrite, coil: reshaped(transmitter.coil, outline) } };
}

/** The model's outline with an opening that the coil's own turns need: its own where they fit. */
function matchedOutline(coil: CoilDocument, model: CoilDocument): OutlineDocument | null {
  const { outline } = model;
  if (outline.shape === 'path') return null;
  if (outline.shape === 'circle') {
    return { ...outline, innerDiameterMm: openingFor(coil, outline.outerDiameterMm, outline.innerDiameterMm) };
  }
  const innerWidthMm = openingFor(coil, outline.outerWidthMm, outline.innerWidthMm);
  const innerHeightMm = openingFor(coil, outline.outerHeightMm, outline.innerHeightMm);
  if (outline.shape === 'stadium') return { ...outline, innerWidthMm, innerHeightMm };
  const most = Math.min(innerWidthMm, innerHeightMm) / 2;
  const inner = outline.innerCornerRadiusMm;
  return {
    ...outline,
    innerWidthMm,
    innerHeightMm,
    innerCornerRadiusMm: inner === null ? null : Math.min(inner, most),
  };
}

/** The plate behind a coil of another outline: the overhang it has now, the mean of width and height. */
export function followingPlate(plate: FerriteDocument, coil: CoilDocument, outline: OutlineDocument): FerriteDocument {
  const now = outerBox(coil);
  const own = plateBox(plate.outline);
  const overhang = (own.widthMm - now.widthMm + own.heightMm - now.heightMm) / 4;
  const next = outerBox({ ...coil, outline });
  const widthMm = Math.max(1, next.widthMm + 2 * overhang);
  const heightMm = Math.max(1, next.heightMm + 2 * overhang);
  if (outline.shape === 'circle') return { ...plate, outline: { shape: 'circle', outerDiameterMm: widthMm } };
  if (outline.shape === 'stadium')
    return { ...plate, outline: { shape: 'stadium', outerWidthMm: widthMm, outerHeightMm: heightMm } };
  const corner = plate.outline.shape === 'roundedRectangle' ? plate.outline.outerCornerRadiusMm : 0;
  return {
    ...plate,
    outline: {
      shape: 'roundedRectangle',
      outerWidthMm: widthMm,
      outerHeightMm: heightMm,
      outerCornerRadiusMm: Math.min(corner, widthMm / 2, heightMm / 2),
    },
  };
}

function plateBox(outline: PlateOutlineDocument): { readonly widthMm: number; readonly heightMm: number } {
  return outline.shape === 'circle'
    ? { widthMm: outline.outerDiameterMm, heightMm: outline.outerDiameterMm }
    : { widthMm: outline.outerWidthMm, heightMm: outline.outerHeightMm };
}

/**
 * The design with its series capacitors changed so that each side resonates where the first pair does: C' = C L / L', with
 * both sides' inductances as placed.
 */
export function retuned(
  design: Design,
  first: { readonly l1: number; readonly l2: number },
  own: { readonly l1: number; readonly l2: number },
): Design {
  const { transmitter, receiver } = design;
  const scaled = (value: number, ratio: number): number => Number((value * ratio).toPrecision(6));
  return {
    ...design,
    transmitter: {
      ...transmitter,
      drive: {
        ...transmitter.drive,
        seriesCapacitanceNf: scaled(transmitter.drive.seriesCapacitanceNf, first.l1 / own.l1),
      },
    },
    receiver: {
      ...receiver,
      pickup: {
        ...receiver.pickup,
        seriesCapacitanceNf: scaled(receiver.pickup.seriesCapacitanceNf, first.l2 / own.l2),
      },
    },
  };
}
