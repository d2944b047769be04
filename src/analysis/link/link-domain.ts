import { InputError } from '../../numerics/errors.ts';
import { isMirrored } from '../../physics/coil/mirrored.ts';
import { poseMatrix } from '../../physics/coil/nodes.ts';
import { outlineBox } from '../../physics/field/outline-grid.ts';
import { bodySupport, sideBodies } from '../../physics/field/solid-bodies.ts';
import type { LinkSide } from '../../physics/field/types.ts';

/** The box of offsets and gaps a link model covers, at one yaw and tilt. Metres. */
export interface LinkDomain {
  readonly halfX: number;
  readonly halfY: number;
  readonly gapMin: number;
  readonly gapMax: number;
}

/** Millimetre, in metres: the grain to which a domain is rounded, so that small edits keep the same box. */
const GRAIN = 1e-3;

/** The attitude a model is built for, radians. */
export interface Attitude {
  readonly yaw: number;
  readonly tiltX: number;
  readonly tiltY: number;
}

/** Radius about its axis within which all of a side lies, m. */
export function sideRadius({ winding, ferrite, metal }: LinkSide): number {
  const { halfWidth, halfHeight } = winding;
  const coil = winding.spec.outline.shape === 'circle' ? halfWidth : Math.hypot(halfWidth, halfHeight);
  return [ferrite, metal].reduce((most, plate) => {
    if (!plate) return most;
    const box = outlineBox(plate.outline);
    return Math.max(most, box.radius + Math.hypot(box.halfWidth - box.radius, box.halfHeight - box.radius));
  }, coil);
}

/** How far a tilted receiver's lowest corner hangs below where its face would be, m. */
function overhang(receiver: LinkSide, attitude: Attitude): number {
  const matrix = poseMatrix({ x: 0, y: 0, z: 0, ...attitude });
  const lowest = new Float64Array(3);
  const depths = sideBodies(receiver, 1).map((body) => {
    bodySupport(body, matrix)(0, 0, -1, lowest);
    return -lowest[2]!;
  });
  return Math.max(0, Math.max(...depths) - receiver.winding.halfThickness);
}

/** Room left under the lowest corner at the least gap, m; where the design asks for less, down to this share of it. */
const ROOM = 0.5e-3;
const LEAST_SHARE = 0.25;

/**
 * The box to start from: three quarters of the larger coil sideways; 1 to 15 mm apart, or as the design's own gap asks. A
 * tilted receiver starts where its lowest corner is clear of the transmitter at every offset.
 *
 * @throws InputError `tilt-too-steep` where the design's own gap is below that
 */
export function startingDomain(transmitter: LinkSide, receiver: LinkSide, gap: number, attitude: Attitude): LinkDomain {
  const [one, two] = [transmitter.winding, receiver.winding];
  const half =
    Math.ceil((0.75 * Math.max(one.halfWidth, one.halfHeight, two.halfWidth, two.halfHeight)) / GRAIN) * GRAIN;
  const low = overhang(receiver, attitude);
  if (gap <= low) {
    throw new InputError({
      code: 'tilt-too-steep',
      path: 'placement.gapMm',
      required: `above ${(low * 1e3).toFixed(1)} mm, by which the tilted receiver hangs down, so that it can be moved sideways`,
      received: `${(gap * 1e3).toFixed(1)} mm`,
      hint: 'Raise the gap or take tilt back; a single pose may still be solved.',
    });
  }
  // The gap enters by factors of two, so that dragging the receiver apart does not rebuild the model at every step.
  const room = (least: number) => least * 2 ** Math.min(0, Math.floor(Math.log2(((gap - low) * 0.75) / least)));
  const gapMin = low > 0 ? low + Math.max(room(ROOM + LEAST_SHARE * low), 1e-5) : room(1e-3);
  const gapMax = Math.max(15e-3, 1e-3 * 2 ** Math.ceil(Math.log2(gap * 1.3 * 1e3)));
  return { halfX: half, halfY: half, gapMin, gapMax };
}

export function grownDomain(domain: LinkDomain, factor: number): LinkDomain {
  return {
    ...domain,
    halfX: Math.ceil((domain.halfX * factor) / GRAIN) * GRAIN,
    halfY: Math.ceil((domain.halfY * factor) / GRAIN) * GRAIN,
  };
}

/** Whether L1, L2 and M are even in x, and in y, at this attitude: both sides mirror-symmetric and nothing turned. */
export function mirrorSymmetry(
  transmitter: LinkSide,
  receiver: LinkSide,
  attitude: Attitude,
): { readonly x: boolean; readonly y: boolean } {
  const mirrored = isMirrored(transmitter.winding) && isMirrored(receiver.winding);
  const quarterTurns = attitude.yaw / (Math.PI / 2);
  const square = mirrored && Math.abs(quarterTurns - Math.round(quarterTurns)) < 1e-9;
  // A tilt about x tips the receiver towards y: the mirror x -> -x survives it, y -> -y does not.
  return {
    x: square && Math.abs(attitude.tiltY) < 1e-12,
    y: square && Math.abs(attitude.tiltX) < 1e-12,
  };
}
