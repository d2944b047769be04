import type { Winding } from '../../physics/coil/types.ts';
import type { LinkSide } from '../../physics/field/types.ts';
import { isMirrored } from '../../physics/field/winding-potential.ts';

/** The box of offsets and gaps a link model covers, at one yaw and tilt. Metres. */
export interface LinkDomain {
  readonly halfX: number;
  readonly halfY: number;
  readonly gapMin: number;
  readonly gapMax: number;
}

/** Millimetre, in metres: the grain to which a domain is rounded, so that small edits keep the same box. */
const GRAIN = 1e-3;

/** The box to start from: three quarters of the larger coil sideways; 1 to 15 mm apart, or as the design's own gap asks. */
export function startingDomain(transmitter: Winding, receiver: Winding, gap: number): LinkDomain {
  const reach = 0.75 * Math.max(transmitter.halfWidth, transmitter.halfHeight, receiver.halfWidth, receiver.halfHeight);
  const half = Math.ceil(reach / GRAIN) * GRAIN;
  // The gap enters by factors of two, so that dragging the receiver apart does not rebuild the model at every step.
  const gapMin = Math.min(1e-3, 2 ** Math.floor(Math.log2(gap * 0.75)));
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
  attitude: { readonly yaw: number; readonly tiltX: number; readonly tiltY: number },
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
