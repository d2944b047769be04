import type { CoilDocument, ConductorDocument, Design, OutlineDocument } from '../../design/types.ts';
import { windSide } from '../../design/wind.ts';
import { conductorWidthMm, outerBox } from './outline-size.ts';
import { followingPlate, reshaped } from './rivals.ts';

export type SearchGoal = 'reach' | 'current' | 'heat';

/** What may be changed, and within what. */
export interface SearchRequest {
  readonly design: Design;
  readonly side: 'transmitter' | 'receiver';
  readonly goal: SearchGoal;
  /** Largest outer width and height of the winding, mm. */
  readonly footprintMm: { readonly width: number; readonly height: number };
  /** Largest height of the winding along its axis, mm. */
  readonly thicknessMm: number;
  readonly wires: readonly ConductorDocument[];
  readonly shapes: readonly ('circle' | 'roundedRectangle' | 'stadium')[];
  readonly mostTurns: number;
  /** Printed coils: least trace width and space between traces, mm, copper thickness, and how many layers; null: wound. */
  readonly printed: PrintedRules | null;
  readonly seed: number;
  readonly generations: number;
}

export interface PrintedRules {
  readonly leastTraceMm: number;
  readonly leastSpaceMm: number;
  readonly copperMm: number;
  readonly mostLayers: number;
  /** Distance between copper layers, mm. */
  readonly layerPitchMm: number;
}

/** Coordinates of a trial, each 0..1. */
export const SEARCH_DIMENSIONS = 9;
const SHAPE = 0;
const WIDTH = 1;
const HEIGHT = 2;
const CORNER = 3;
const LAYERS = 4;
const WIRE = 5;
const TURNS = 6;
const OPENING = 7;
const CAPACITOR = 8;

/** Smallest outer size, as a share of the footprint. */
const SMALLEST = 0.45;
/** The series capacitor goes from 2^-1.2 to 2^1.2 of the value that keeps the resonance in air. */
const CAPACITOR_OCTAVES = 1.2;

/** A coil as a trial describes it, with its plate and capacitor factor; null where it cannot be wound. */
export interface Trial {
  readonly design: Design;
  /** Series capacitance over the one that keeps the side's resonance. */
  readonly capacitorFactor: number;
}

const pick = <T>(list: readonly T[], share: number): T =>
  list[Math.min(list.length - 1, Math.floor(share * list.length))]!;

/** Largest number of layers for a conductor within the thickness. */
export function mostLayers(request: SearchRequest, conductor: ConductorDocument): number {
  if (request.printed) return request.printed.mostLayers;
  const height = conductor.kind === 'trace' ? conductor.thicknessMm : conductorHeightMm(conductor);
  return Math.max(0, Math.floor(request.thicknessMm / height + 1e-9));
}

function conductorHeightMm(conductor: Exclude<ConductorDocument, { kind: 'trace' }>): number {
  return conductor.kind === 'litz' ? conductor.bundleDiameterMm : conductor.insulatedDiameterMm;
}

/** The design that a trial describes. @returns null where no such coil can be wound */
export function trialDesign(request: SearchRequest, x: ArrayLike<number>): Trial | null {
  const { design, side, footprintMm, printed } = request;
  const own = design[side].coil;
  const shape = pick(request.shapes, x[SHAPE]!);
  const widthMm = footprintMm.width * (SMALLEST + (1 - SMALLEST) * x[WIDTH]!);
  const heightMm = footprintMm.height * (SMALLEST + (1 - SMALLEST) * x[HEIGHT]!);
  const outerMm = shape === 'circle' ? Math.min(widthMm, heightMm) : widthMm;
  const acrossMm = shape === 'circle' ? outerMm : heightMm;
  const shorter = Math.min(outerMm, acrossMm);
  let conductor = pick(request.wires, x[WIRE]!);
  const layersMost = mostLayers(request, conductor);
  if (layersMost < 1) return null;
  const layers = 1 + Math.min(layersMost - 1, Math.floor(x[LAYERS]! * layersMost));
  const turns = 1 + Math.floor(x[TURNS]! * (request.mostTurns - 1) + 0.5);
  if (turns < layers) return null;
  const across = Math.ceil(turns / layers);
  let pitch: number;
  if (printed) {
    // The share of the band that stays open decides how wide the traces become.
    const band = (shorter / 2) * (0.15 + 0.8 * (1 - x[OPENING]!));
    const trace = band / across - printed.leastSpaceMm;
    if (trace < printed.leastTraceMm) return null;
    conductor = { kind: 'trace', widthMm: Number(trace.toFixed(3)), thicknessMm: printed.copperMm };
    pitch = trace + printed.leastSpaceMm;
  } else {
    const width = conductorWidthMm({ ...own, conductor });
    const tightest = width;
    const widest = across > 1 ? (shorter / 2 - width) / (across - 1) : width;
    if (widest < tightest) return null;
    pitch = tightest + (widest - tightest) * x[OPENING]! ** 2;
  }
  const width = conductorWidthMm({ ...own, conductor });
  const band = width + (across - 1) * pitch;
  if (2 * band >= shorter * 0.97) return null;
  const outline = outlineOf(shape, outerMm, acrossMm, band, width, x[CORNER]!);
  const coil: CoilDocument = {
    ...reshaped(own, outline),
    turns,
    layers,
    conductor,
    filars: 1,
    winding: 'rings',
    layerPitchMm: printed ? printed.layerPitchMm : layerPitch(conductor),
  };
  const part = design[side];
  const ferrite = part.ferrite ? withinPlate(part.ferrite, own, outline) : null;
  const next = { ...design, [side]: { ...part, coil, ferrite } } as Design;
  if (!windSide(next, side).ok) return null;
  return { design: next, capacitorFactor: 2 ** (CAPACITOR_OCTAVES * (2 * x[CAPACITOR]! - 1)) };
}

/** The plate follows the coil; where the coil is no larger than now the plate that is there stays. */
function withinPlate(
  plate: NonNullable<Design['receiver']['ferrite']>,
  own: CoilDocument,
  outline: OutlineDocument,
): NonNullable<Design['receiver']['ferrite']> {
  const now = outerBox(own);
  const next = outerBox({ ...own, outline });
  const fits = next.widthMm <= now.widthMm + 1e-9 && next.heightMm <= now.heightMm + 1e-9;
  return fits ? plate : followingPlate(plate, own, outline);
}

function layerPitch(conductor: ConductorDocument): number {
  if (conductor.kind === 'trace') return conductor.thicknessMm + 0.2;
  return Number((1.05 * conductorHeightMm(conductor)).toFixed(3));
}

function outlineOf(
  shape: 'circle' | 'roundedRectangle' | 'stadium',
  widthMm: number,
  heightMm: number,
  band: number,
  conductorMm: number,
  corner: number,
): OutlineDocument {
  const round = (value: number): number => Number(value.toFixed(3));
  if (shape === 'circle') {
    return { shape, outerDiameterMm: round(widthMm), innerDiameterMm: round(widthMm - 2 * band) };
  }
  const sizes = {
    outerWidthMm: round(widthMm),
    outerHeightMm: round(heightMm),
    innerWidthMm: round(widthMm - 2 * band),
    innerHeightMm: round(heightMm - 2 * band),
  };
  if (shape === 'stadium') return { shape, ...sizes };
  const largest = Math.min(widthMm, heightMm) / 2;
  return {
    shape,
    ...sizes,
    outerCornerRadiusMm: round(conductorMm + (largest - conductorMm) * corner),
    innerCornerRadiusMm: null,
  };
}

/** The trial that stands for the design's own coil, as near as the space has it: a start for the search. */
export function ownTrial(request: SearchRequest): Float64Array {
  const { design, side, footprintMm } = request;
  const coil = design[side].coil;
  const { outline } = coil;
  const box = outerBox(coil);
  const out = new Float64Array(SEARCH_DIMENSIONS).fill(0.5);
  const within = (value: number): number => Math.min(1, Math.max(0, value));
  const size = (value: number, most: number): number => within((value / most - SMALLEST) / (1 - SMALLEST));
  const index = (request.shapes as readonly string[]).indexOf(outline.shape);
  out[SHAPE] = index < 0 ? 0.5 : (index + 0.5) / request.shapes.length;
  out[WIDTH] = size(box.widthMm, footprintMm.width);
  out[HEIGHT] = size(box.heightMm, footprintMm.height);
  const wire = request.wires.findIndex((entry) => JSON.stringify(entry) === JSON.stringify(coil.conductor));
  const conductor = wire < 0 ? request.wires[0]! : coil.conductor;
  out[WIRE] = wire < 0 ? 0 : (wire + 0.5) / request.wires.length;
  const layers = mostLayers(request, conductor);
  out[LAYERS] = layers < 1 ? 0 : within((coil.layers - 0.5) / layers);
  out[TURNS] = within((coil.turns - 1) / Math.max(1, request.mostTurns - 1));
  const shorter = Math.min(box.widthMm, box.heightMm);
  const width = conductorWidthMm({ ...coil, conductor });
  const across = Math.ceil(coil.turns / coil.layers);
  if (outline.shape === 'roundedRectangle')
    out[CORNER] = within((outline.outerCornerRadiusMm - width) / Math.max(1e-9, shorter / 2 - width));
  if (outline.shape !== 'path' && across > 1) {
    const inner =
      outline.shape === 'circle' ? outline.innerDiameterMm : Math.min(outline.innerWidthMm, outline.innerHeightMm);
    const pitch = ((shorter - inner) / 2 - width) / (across - 1);
    const widest = (shorter / 2 - width) / (across - 1);
    out[OPENING] = Math.sqrt(within((pitch - width) / Math.max(1e-9, widest - width)));
  }
  return out;
}
