/** Where the receiver lies, seen from above. */
export interface PlanPose {
  readonly xMm: number;
  readonly yMm: number;
  /** Counter-clockwise. */
  readonly yawDeg: number;
}
