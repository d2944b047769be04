import type { CoilDocument, Design, FerriteDocument, OutlineDocument } from '../../design/types.ts';
import { InputError } from '../../numerics/errors.ts';
import { conductorWidthMm, outerBox } from './outline-size.ts';

/** One coil of a row as a design of its own, and how its map lies in the row's coordinates. */
export interface RowMember {
  readonly design: Design;
  /** To be added to the coordinates of its map, mm: its centre in air, nothing where its plate is modelled in place. */
  readonly shiftMm: readonly [number, number];
  /** Centre in the row, mm. */
  readonly centreMm: readonly [number, number];
}

/** Corners of the polygon that stands for a circle. */
const CORNERS = 48;

/**
 * A row of coils like the transmitter's, evenly spaced along x, about the middle. Neighbours overlap, so that every other
 * one lies one winding's height farther from the receiver, and of three that all overlap each other the third two; the
 * ferrite moves down by as much and grows by the row's length.
 *
 * @param count 2 or 3 @param stepMm distance of the centres
 */
export function rowOf(design: Design, count: 2 | 3, stepMm: number): Design {
  const { transmitter } = design;
  const { coil, ferrite } = transmitter;
  const { widthMm } = outerBox(coil);
  const height = stepMm < widthMm ? conductorHeightMm(coil) + (coil.layers - 1) * coil.layerPitchMm : 0;
  const centres = count === 2 ? [stepMm] : [-stepMm, stepMm];
  // The outer two of three lie side by side where there is room for both.
  const stacked = count === 3 && 2 * stepMm < widthMm * (1 - 1e-9);
  const furtherCoils = centres.map((xMm, i) => ({ xMm, yMm: 0, heightStepMm: stacked ? -(i + 1) * height : -height }));
  const depth = stacked ? 2 * height : height;
  return {
    ...design,
    transmitter: {
      ...transmitter,
      furtherCoils,
      // The plate stays about the first coil: as long on the far side as the row needs.
      ferrite: ferrite && widened({ ...ferrite, standoffMm: ferrite.standoffMm + depth }, 2 * stepMm),
    },
  };
}

function conductorHeightMm(coil: CoilDocument): number {
  return coil.conductor.kind === 'trace' ? coil.conductor.thicknessMm : conductorWidthMm(coil);
}

function widened(ferrite: FerriteDocument, byMm: number): FerriteDocument {
  const { outline } = ferrite;
  const sizes =
    outline.shape === 'circle'
      ? { outerWidthMm: outline.outerDiameterMm + byMm, outerHeightMm: outline.outerDiameterMm }
      : { outerWidthMm: outline.outerWidthMm + byMm, outerHeightMm: outline.outerHeightMm };
  const corner = outline.shape === 'roundedRectangle' ? outline.outerCornerRadiusMm : 0;
  return { ...ferrite, outline: { shape: 'roundedRectangle', ...sizes, outerCornerRadiusMm: corner } };
}

/**
 * Every coil of a design's row as a design of its own. In air a coil elsewhere is the same coil seen from elsewhere. Over
 * ferrite or metal it is wound as a free outline off the middle of the plate, which stays where it is: round coils become a
 * polygon of 48 corners of the same area.
 *
 * @throws InputError without further coils, or where a coil off the plate's middle cannot be described
 */
export function rowMembers(design: Design): RowMember[] {
  const { furtherCoils, coil, ferrite, metal } = design.transmitter;
  if (furtherCoils.length === 0)
    throw new InputError({
      code: 'no-further-coils',
      path: 'transmitter.furtherCoils',
      required: 'at least one further coil',
      received: 'none',
    });
  const alone: Design = { ...design, transmitter: { ...design.transmitter, furtherCoils: [] } };
  const first: RowMember = { design: alone, shiftMm: [0, 0], centreMm: [0, 0] };
  const plates = ferrite !== null || metal !== null;
  const further = furtherCoils.map(({ xMm, yMm, heightStepMm }): RowMember => {
    const gapMm = design.placement.gapMm - heightStepMm;
    if (!(gapMm > 0))
      throw new InputError({
        code: 'coil-too-high',
        path: 'transmitter.furtherCoils',
        required: `a height step below the gap of ${design.placement.gapMm} mm`,
        received: `${heightStepMm} mm`,
      });
    const placement = { ...design.placement, gapMm };
    if (!plates) return { design: { ...alone, placement }, shiftMm: [xMm, yMm], centreMm: [xMm, yMm] };
    const standoff = <T extends { readonly standoffMm: number }>(plate: T | null): T | null => {
      if (!plate) return null;
      const standoffMm = plate.standoffMm + heightStepMm;
      if (standoffMm < 0)
        throw new InputError({
          code: 'coil-in-plate',
          path: 'transmitter.furtherCoils',
          required: `a height step of at least ${-plate.standoffMm} mm, so that the coil stays above its plate`,
          received: `${heightStepMm} mm`,
        });
      return { ...plate, standoffMm };
    };
    const moved: CoilDocument = { ...coil, outline: movedOutline(coil, xMm, yMm), winding: 'rings' };
    const transmitter = {
      ...alone.transmitter,
      coil: moved,
      ferrite: standoff(ferrite),
      // Behind ferrite the metal's distance is counted from the ferrite, which has not moved.
      metal: ferrite ? metal : standoff(metal),
    };
    return { design: { ...alone, transmitter, placement }, shiftMm: [0, 0], centreMm: [xMm, yMm] };
  });
  return [first, ...further];
}

function movedOutline(coil: CoilDocument, xMm: number, yMm: number): OutlineDocument {
  const { outline } = coil;
  const width = conductorWidthMm(coil);
  const across = Math.ceil(coil.turns / coil.layers);
  const at = (points: readonly (readonly [number, number])[], pitchMm: number): OutlineDocument => ({
    shape: 'path',
    pointsMm: points.map(([x, y]): [number, number] => [x + xMm, y + yMm]),
    pitchMm,
  });
  if (outline.shape === 'path') return at(outline.pointsMm, outline.pitchMm);
  if (outline.shape === 'circle') {
    const radius = (outline.outerDiameterMm - width) / 2;
    // A regular polygon of the circle's area.
    const corner = radius * Math.sqrt((2 * Math.PI) / (CORNERS * Math.sin((2 * Math.PI) / CORNERS)));
    const points = Array.from({ length: CORNERS }, (_, i): [number, number] => {
      const angle = (2 * Math.PI * (i + 0.5)) / CORNERS;
      return [corner * Math.cos(angle), corner * Math.sin(angle)];
    });
    const pitch = (outline.outerDiameterMm - outline.innerDiameterMm - 2 * width) / 2 / Math.max(1, across - 1);
    return at(points, Math.max(pitch, width));
  }
  throw new InputError({
    code: 'row-shape',
    path: 'transmitter.coil.outline.shape',
    required: 'circle or path for a row over ferrite or metal',
    received: outline.shape,
    hint: 'Take ferrite and metal off the transmitter to look at the row in air.',
  });
}
