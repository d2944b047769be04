/** How far the device may turn and tilt where it rests: what the recess's clearance and the stack's tolerances allow. */
import type { Design } from '../../design/types.ts';
import type { Pose } from '../../physics/coil/types.ts';
import { shapeOf } from './device-shape.ts';
import { loosestPlay, tolerancesOf } from './recess.ts';
import { recessOf } from './recess-report.ts';
import { stackThickness } from './tolerance-stack.ts';

/** Turn and tilts against the design's resting attitude, rad. */
export type AttitudeStep = Pick<Pose, 'yaw' | 'tiltX' | 'tiltY'>;

/** Largest turn and tilts either way, rad, and the ends of the gap, mm. */
export interface AttitudeRange extends AttitudeStep {
  readonly thinnestMm: number;
  readonly nominalMm: number;
  readonly thickestMm: number;
}

/** Largest turn that maps are made for, rad. */
export const MOST_TURN = Math.PI / 6;
/** Least gap that a map is made for, mm. */
const LEAST_GAP = 0.2;
/** Clearance taken where the design has a snugger recess, or none, mm. */
const USUAL_CLEARANCE = 1;

/**
 * The turn is what the loosest pocket allows. A layer may be thick on one side and thin on the other, each within its
 * tolerance: over the device's width w the stack is then a wedge of 2 t / w, t being the sum of the tolerances (no layer gets
 * thinner than nothing). A wedge uses the tolerance up: thinnest and thickest stacks are level, the full wedge has the nominal
 * gap, and what lies between is their mix. Without a stack nothing is known of a wedge and none is taken.
 */
export function attitudeRange(design: Design): AttitudeRange {
  const { gapMm } = design.placement;
  const { recess } = recessOf(design);
  const device = shapeOf(recess.outline);
  const { play } = loosestPlay(
    device,
    Math.max(USUAL_CLEARANCE, recess.clearanceMm),
    tolerancesOf(recess),
    'worst',
    null,
  );
  const yaw = Number.isNaN(play.largestYaw) ? 0 : Math.min(MOST_TURN, play.largestYaw);
  if (design.stack.length === 0)
    return { yaw, tiltX: 0, tiltY: 0, thinnestMm: gapMm, nominalMm: gapMm, thickestMm: gapMm };
  const { worst } = stackThickness(design.stack);
  const uneven = design.stack.reduce((sum, layer) => sum + Math.min(layer.toleranceMm, layer.thicknessMm), 0);
  return {
    yaw,
    // About x it tips towards y: what counts is the size along y.
    tiltX: Math.atan(uneven / device.halfHeightMm),
    tiltY: Math.atan(uneven / device.halfWidthMm),
    thinnestMm: Math.max(LEAST_GAP, worst.thinnestMm),
    nominalMm: gapMm,
    thickestMm: Math.max(LEAST_GAP, worst.thickestMm),
  };
}

/** A gap and an attitude that the tolerances allow. */
export interface AllowedPlace extends AttitudeStep {
  readonly gapMm: number;
}

/** The corners of what is allowed, each at no turn and at the largest either way: level ends, and wedges at the nominal gap. */
export function allowedCorners(range: AttitudeRange): AllowedPlace[] {
  const { thinnestMm, nominalMm, thickestMm, yaw, tiltX, tiltY } = range;
  const level = { tiltX: 0, tiltY: 0 };
  const places = [
    { gapMm: nominalMm, ...level },
    { gapMm: thinnestMm, ...level },
    { gapMm: thickestMm, ...level },
    { gapMm: nominalMm, tiltX, tiltY: 0 },
    { gapMm: nominalMm, tiltX: -tiltX, tiltY: 0 },
    { gapMm: nominalMm, tiltX: 0, tiltY },
    { gapMm: nominalMm, tiltX: 0, tiltY: -tiltY },
  ];
  const seen = new Set<string>();
  return places
    .flatMap((place) => [0, -yaw, yaw].map((turn) => ({ ...place, yaw: turn })))
    .filter(({ gapMm, yaw: turn, tiltX: x, tiltY: y }) => {
      const key = [gapMm, turn, x, y].map((value) => value + 0).join();
      return seen.size < seen.add(key).size;
    });
}
