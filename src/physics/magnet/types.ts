/** Shapes of the magnet folder. SI and radians. */

/** A disc magnetised along its axis (towards +z), with rigid uniform magnetisation. */
export interface DiscMagnet {
  /** m */
  readonly radius: number;
  /** m */
  readonly thickness: number;
  /** Remanent flux density, T. Negative: magnetised towards -z. */
  readonly remanence: number;
}

/** Force (N) on a body and torque (N m) about the point that the function names. */
export interface Wrench {
  readonly fx: number;
  readonly fy: number;
  readonly fz: number;
  readonly tx: number;
  readonly ty: number;
  readonly tz: number;
}

/** Where a body sits: turned by Rx(tiltX) Ry(tiltY) Rz(yaw), then moved to (x, y, z). m, rad. */
export interface BodyPose {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly yaw: number;
  readonly tiltX: number;
  readonly tiltY: number;
}

/** Nodes in each panel of a profile. */
export const PROFILE_NODES = 14;

/** Pull, restoring force and tipping torque of one pair over the offset at one gap: piecewise Chebyshev polynomials. */
export interface PairProfile {
  /** Panel ends, m, ascending from 0. */
  readonly ends: Float64Array;
  /** [panel][pull, restoring, tipping][PROFILE_NODES] */
  readonly coefficients: Float64Array;
}
