import { poseMatrix } from '../coil/nodes.ts';
import type { Pose, Winding } from '../coil/types.ts';
import { windingField } from '../coil/winding-field.ts';
import { MU0 } from '../constants.ts';
import { inverseMotion } from '../field/link-solver.ts';

/** B per ampere at a point of the transmitter's frame, T/A, x y z into `out`. */
export type UnitField = (x: number, y: number, z: number, out: Float64Array) => void;

/** Fields of one ampere in each coil, the other one open; plates included where there are any. */
export interface UnitFields {
  readonly transmitter: UnitField;
  readonly receiver: UnitField;
}

/** Currents of a periodic state, harmonics included. */
export interface CoilCurrents {
  /** rms, A */
  readonly transmitterA: number;
  readonly receiverA: number;
  /** Mean product over the product of the rms values, -1 to 1, both counted positive in the same sense of turning. */
  readonly correlation: number;
}

/** What one point sees. */
export interface PointField {
  /** Resultant rms flux density: root of the mean square of all three components, T. */
  readonly rmsT: number;
  /** Each coil's share alone, T. */
  readonly transmitterT: number;
  readonly receiverT: number;
}

/** Field of two windings in air, turn by turn. @param tolerance relative accuracy of arcs, 1e-12 to 0.1 */
export function airFields(transmitter: Winding, receiver: Winding, pose: Pose, tolerance = 1e-5): UnitFields {
  const one = windingField(transmitter, tolerance);
  const two = windingField(receiver, tolerance);
  const m = poseMatrix(pose);
  const back = inverseMotion(m);
  const h = new Float64Array(3);
  return {
    transmitter(x, y, z, out) {
      one.at(x, y, z, 0, 0, out);
      for (let k = 0; k < 3; k++) out[k] = MU0 * out[k]!;
    },
    receiver(x, y, z, out) {
      const u = back[0]! * x + back[1]! * y + back[2]! * z + back[9]!;
      const v = back[3]! * x + back[4]! * y + back[5]! * z + back[10]!;
      const w = back[6]! * x + back[7]! * y + back[8]! * z + back[11]!;
      two.at(u, v, w, 0, 0, h);
      for (let k = 0; k < 3; k++) out[k] = MU0 * (m[3 * k]! * h[0]! + m[3 * k + 1]! * h[1]! + m[3 * k + 2]! * h[2]!);
    },
  };
}

const b1 = new Float64Array(3);
const b2 = new Float64Array(3);

/**
 * Resultant rms flux density of both coils' currents at a point, with their phase.
 *
 * @param x y z of the transmitter's frame, m; not inside a conductor or a plate
 * Accuracy: that of the unit fields; the sum is exact, for any waveform: mean (i1 b1 + i2 b2)^2 needs the mean squares and the mean
 * product of the currents alone. Where the currents are in quadrature the field turns; the resultant counts both axes.
 */
export function rmsField(fields: UnitFields, currents: CoilCurrents, x: number, y: number, z: number): PointField {
  const { transmitterA: i1, receiverA: i2, correlation } = currents;
  fields.transmitter(x, y, z, b1);
  fields.receiver(x, y, z, b2);
  const own1 = b1[0]! ** 2 + b1[1]! ** 2 + b1[2]! ** 2;
  const own2 = b2[0]! ** 2 + b2[1]! ** 2 + b2[2]! ** 2;
  const both = b1[0]! * b2[0]! + b1[1]! * b2[1]! + b1[2]! * b2[2]!;
  const square = i1 * i1 * own1 + 2 * correlation * i1 * i2 * both + i2 * i2 * own2;
  return {
    rmsT: Math.sqrt(Math.max(0, square)),
    transmitterT: i1 * Math.sqrt(own1),
    receiverT: i2 * Math.sqrt(own2),
  };
}
