/** A recess and magnets to begin with, where a design has none yet. */
import type { Design, MagnetsDocument, PlateOutlineDocument, RecessDocument } from '../../design/types.ts';
import { recessOf } from './recess-report.ts';

/** Discs that are sold everywhere. Common practice, no source. */
const DIAMETER = 8;
const THICKNESS = 2;
/** Left between a magnet and the ferrite beside it, mm: the ferrite must not be pierced, and shunts what is near. */
const CLEAR = 2;
/** Usual gap of magnets set flush behind thin walls, mm. */
const GAP = 3;

/** A recess around the receiver's parts with the default tolerances. */
export function usualRecess(design: Design): RecessDocument {
  return recessOf({ ...design, holding: { ...design.holding, recess: null } }).recess;
}

/** Two pairs on the longer side, just clear of both ferrites. */
export function usualMagnets(design: Design): MagnetsDocument {
  const { recess } = recessOf(design);
  const [width, height] = sizeOf(recess.outline);
  const plates = [design.transmitter.ferrite, design.receiver.ferrite].map((plate) =>
    plate ? sizeOf(plate.outline) : ([0, 0] as const),
  );
  const clear = (axis: 0 | 1) => Math.max(...plates.map((size) => size[axis])) / 2 + CLEAR + DIAMETER / 2;
  const along = width >= height;
  const away = Math.ceil(Math.max(clear(along ? 0 : 1), DIAMETER));
  return {
    positionsMm: along
      ? [
          [-away, 0],
          [away, 0],
        ]
      : [
          [0, -away],
          [0, away],
        ],
    diameterMm: DIAMETER,
    thicknessMm: THICKNESS,
    remanenceT: 1.2,
    facing: 'magnet',
    gapMm: Math.min(GAP, design.placement.gapMm),
  };
}

function sizeOf(outline: PlateOutlineDocument): readonly [number, number] {
  return outline.shape === 'circle'
    ? [outline.outerDiameterMm, outline.outerDiameterMm]
    : [outline.outerWidthMm, outline.outerHeightMm];
}
