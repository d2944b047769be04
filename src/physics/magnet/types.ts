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

export const NO_WRENCH: Wrench = Object.freeze({ fx: 0, fy: 0, fz: 0, tx: 0, ty: 0, tz: 0 });
