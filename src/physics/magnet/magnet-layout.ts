/** One to several magnet pairs between two plates that move against each other: the device and its dock. */
import { InputError } from '../../numerics/errors.ts';
import { checkDisc, discPairForce } from './disc-pair.ts';
import { rotationOf } from './rotation.ts';
import { discForce } from './sheet-force.ts';
import type { SteelDisc } from './steel-disc.ts';
import { steelPlatePull, tiltedSteelPull } from './steel-plate.ts';
import type { BodyPose, DiscMagnet, Wrench } from './types.ts';

export interface MagnetLayout {
  /** Centres of the pairs in either plate's own plane, [n, 2] row-major, m. */
  readonly positions: Float64Array;
  /** +1 or -1 per pair: which way both its magnets point. Null: all +1. */
  readonly polarity: Int8Array | null;
  /** The disc in the dock. */
  readonly lower: DiscMagnet;
  /** The disc in the device. */
  readonly upper: DiscMagnet;
  /** What the device's discs face: magnets in the dock, or steel. */
  readonly facing: 'magnet' | 'steel';
  /**
   * The steel disc facing each magnet, in place of a plate much larger than the magnets. Only `layoutProfile` knows it;
   * `layoutForce` and `layoutStiffness` take steel as large (the upper bound of the pull).
   */
  readonly steel?: SteelDisc | null;
  /** Clear distance of the facing surfaces when the device is home, m. */
  readonly gap: number;
}

/** Most pairs that a layout may have. */
export const MOST_PAIRS = 8;

/** Where the device is relative to home; `z` is the lift. */
export const HOME: BodyPose = Object.freeze({ x: 0, y: 0, z: 0, yaw: 0, tiltX: 0, tiltY: 0 });

/** Checks a layout once. @throws InputError */
export function checkLayout(layout: MagnetLayout): void {
  const count = layout.positions.length / 2;
  if (!(count >= 1 && count <= MOST_PAIRS && Number.isInteger(count)))
    throw new InputError({
      code: 'magnet-pairs',
      path: 'magnets.positions',
      required: `1 to ${MOST_PAIRS} positions`,
      received: `${count}`,
    });
  checkDisc(layout.upper, 'magnets.upper');
  if (layout.facing === 'magnet') checkDisc(layout.lower, 'magnets.lower');
  if (!(layout.gap >= 0))
    throw new InputError({
      code: 'magnet-gap',
      path: 'magnets.gap',
      required: 'a gap >= 0 m',
      received: `${layout.gap} m`,
    });
  for (let i = 0; i < count; i += 1)
    for (let j = 0; j < i; j += 1) {
      const apart = Math.hypot(
        layout.positions[2 * i] - layout.positions[2 * j],
        layout.positions[2 * i + 1] - layout.positions[2 * j + 1],
      );
      const needed = 2 * Math.max(layout.upper.radius, layout.facing === 'magnet' ? layout.lower.radius : 0);
      if (apart < needed)
        throw new InputError({
          code: 'magnets-overlap',
          path: 'magnets.positions',
          required: `positions at least one diameter (${(needed * 1e3).toFixed(2)} mm) apart`,
          received: `${(apart * 1e3).toFixed(2)} mm between ${j + 1} and ${i + 1}`,
        });
    }
}

/**
 * Force on the device and torque about the centre of its magnets' mid-plane, in the dock's frame.
 * @param layout checked by `checkLayout`. @param pose from home: sideways x, y, lift z, turn; m, rad.
 * @returns N, N m. `-fz` is the pull.
 *
 * Every magnet of the device is acted on by every magnet of the dock. Without tilt the exact parallel form is used
 * (60 us a pair), with tilt the sheet quadrature (2 to 20 ms a pair). Steel: large-plate images, so no sideways force.
 */
export function layoutForce(layout: MagnetLayout, pose: BodyPose): Wrench {
  const tilted = pose.tiltX !== 0 || pose.tiltY !== 0;
  const turn = rotationOf(pose, new Float64Array(9));
  const count = layout.positions.length / 2;
  const rest = layout.gap + layout.upper.thickness / 2 + (layout.facing === 'magnet' ? layout.lower.thickness / 2 : 0);
  const sum = { fx: 0, fy: 0, fz: 0, tx: 0, ty: 0, tz: 0 };
  for (let i = 0; i < count; i += 1) {
    const px = layout.positions[2 * i];
    const py = layout.positions[2 * i + 1];
    // Arm of this magnet from the device's centre.
    const ax = turn[0] * px + turn[1] * py;
    const ay = turn[3] * px + turn[4] * py;
    const az = turn[6] * px + turn[7] * py;
    const height = rest + pose.z + az;
    if (layout.facing === 'steel') {
      addWrench(sum, steelWrench(layout.upper, height, tilted, turn), ax, ay, az);
      continue;
    }
    for (let j = 0; j < count; j += 1) {
      const sign = layout.polarity ? layout.polarity[i] * layout.polarity[j] : 1;
      const dx = pose.x + ax - layout.positions[2 * j];
      const dy = pose.y + ay - layout.positions[2 * j + 1];
      const part = tilted
        ? discForce(layout.lower, layout.upper, { ...pose, x: dx, y: dy, z: height })
        : parallelWrench(layout, dx, dy, layout.gap + pose.z);
      addWrench(sum, part, ax, ay, az, sign);
    }
  }
  return sum;
}

function parallelWrench(layout: MagnetLayout, dx: number, dy: number, gap: number): Wrench {
  const offset = Math.hypot(dx, dy);
  const pair = discPairForce(layout.lower, layout.upper, offset, gap);
  const ux = offset > 0 ? dx / offset : 0;
  const uy = offset > 0 ? dy / offset : 0;
  return {
    fx: -pair.restoring * ux,
    fy: -pair.restoring * uy,
    fz: -pair.pull,
    tx: -pair.tipping * uy,
    ty: pair.tipping * ux,
    tz: 0,
  };
}

function steelWrench(disc: DiscMagnet, height: number, tilted: boolean, turn: Float64Array): Wrench {
  if (!tilted) {
    const { pull } = steelPlatePull(disc, height - disc.thickness / 2, 10 * disc.radius);
    return { fx: 0, fy: 0, fz: -pull, tx: 0, ty: 0, tz: 0 };
  }
  // The disc's axis is the third column; the torque turns it towards the normal.
  const lean = Math.hypot(turn[2], turn[5]);
  const { pull, righting } = tiltedSteelPull(disc, height, Math.atan2(lean, turn[8]));
  return {
    fx: 0,
    fy: 0,
    fz: -pull,
    tx: (righting * turn[5]) / lean,
    ty: (-righting * turn[2]) / lean,
    tz: 0,
  };
}

function addWrench(
  sum: { fx: number; fy: number; fz: number; tx: number; ty: number; tz: number },
  part: Wrench,
  ax: number,
  ay: number,
  az: number,
  sign = 1,
): void {
  sum.fx += sign * part.fx;
  sum.fy += sign * part.fy;
  sum.fz += sign * part.fz;
  sum.tx += sign * (part.tx + ay * part.fz - az * part.fy);
  sum.ty += sign * (part.ty + az * part.fx - ax * part.fz);
  sum.tz += sign * (part.tz + ax * part.fy - ay * part.fx);
}

/** Stiffness at home: how fast the restoring force grows. */
export interface LayoutStiffness {
  /** N/m, positive: pushes back. */
  readonly sidewaysX: number;
  readonly sidewaysY: number;
  /** N m/rad, positive: turns back. */
  readonly yaw: number;
  /** N/m by which the pull falls as the device is lifted. */
  readonly lift: number;
}

/** Stiffness at home by central differences of step a five-hundredth of the magnet's radius; 1e-5 relative. */
export function layoutStiffness(layout: MagnetLayout): LayoutStiffness {
  const step = layout.upper.radius / 500;
  const reach = Math.max(layout.upper.radius, ...Array.from(layout.positions, Math.abs));
  const angle = step / reach;
  const at = (change: Partial<BodyPose>) => layoutForce(layout, { ...HOME, ...change });
  const lifted = at({ z: 2 * step });
  return {
    sidewaysX: -(at({ x: step }).fx - at({ x: -step }).fx) / (2 * step),
    sidewaysY: -(at({ y: step }).fy - at({ y: -step }).fy) / (2 * step),
    yaw: -(at({ yaw: angle }).tz - at({ yaw: -angle }).tz) / (2 * angle),
    // One-sided of second order: the device cannot go below home.
    lift: (-3 * at({}).fz + 4 * at({ z: step }).fz - lifted.fz) / (2 * step),
  };
}
