/** What ferrite adds to a layout's force, sampled at a few offsets and interpolated between them. */
import {
  type ChebyshevTensor,
  evaluateChebyshevTensor,
  fitChebyshevTensor,
  tensorPoints,
} from '../../numerics/chebyshev.ts';
import { type LayoutPlates, layoutForceOnPlates } from './layout-on-plates.ts';
import type { MagnetLayout } from './magnet-layout.ts';
import type { SidewaysForce } from './pair-profile.ts';

export interface PlateForceMap {
  /** Largest offset along each axis, m. */
  readonly reach: number;
  /** Whether one quarter stands for all four. */
  readonly mirrored: boolean;
  /** Outputs fx, fy, pull, torque that the plates add, over x and y. */
  readonly tensor: ChebyshevTensor;
  /** Sampled offsets. */
  readonly samples: number;
}

/** Samples along each axis of a quarter (a whole layout takes twice as many less one). */
const QUARTER_POINTS = 5;

/** Grid of the samples. */
function gridOf(layout: MagnetLayout, reach: number) {
  const mirrored = isMirrored(layout, 0) && isMirrored(layout, 1);
  const count = mirrored ? QUARTER_POINTS : 2 * QUARTER_POINTS - 1;
  const lower = mirrored ? [0, 0] : [-reach, -reach];
  return { mirrored, lower, upper: [reach, reach], counts: [count, count], samples: count * count };
}

/** Samples that a layout needs: 25 where it is mirrored in both axes, else 81. */
export function plateForceCount(layout: MagnetLayout): number {
  return gridOf(layout, 1).samples;
}

/**
 * Samples `from` to `to` of the plates' part of the force at no turn, some tens of milliseconds each.
 * @param reach half-side of the square of offsets, m. @returns [to - from, 4] fx, fy, pull, torque
 */
export function solvePlateForces(
  layout: MagnetLayout,
  plates: LayoutPlates,
  reach: number,
  from: number,
  to: number,
): Float64Array {
  const { lower, upper, counts } = gridOf(layout, reach);
  const points = tensorPoints(lower, upper, counts);
  const values = new Float64Array(4 * (to - from));
  for (let k = from; k < to; k += 1) {
    const { total, air } = layoutForceOnPlates(layout, plates, points[2 * k], points[2 * k + 1], 0);
    values.set([total.fx - air.fx, total.fy - air.fy, air.fz - total.fz, total.tz - air.tz], 4 * (k - from));
  }
  return values;
}

/** The map from all samples, in their order. */
export function assemblePlateForces(layout: MagnetLayout, reach: number, values: Float64Array): PlateForceMap {
  const { mirrored, lower, upper, counts, samples } = gridOf(layout, reach);
  return { reach, mirrored, tensor: fitChebyshevTensor(values, lower, upper, counts, 4), samples };
}

/**
 * Samples the plates' part of the force at no turn.
 *
 * The plates' part changes over the size of the gap between magnet and ferrite, so a coarse grid will do: 2 % of the plates'
 * part for reaches up to three magnet radii. The turning torque of the plates is left out.
 */
export function samplePlateForces(layout: MagnetLayout, plates: LayoutPlates, reach: number): PlateForceMap {
  return assemblePlateForces(layout, reach, solvePlateForces(layout, plates, reach, 0, plateForceCount(layout)));
}

/** The magnets' force with what the plates add; beyond the sampled square the plates add nothing more than at its edge. */
export function withPlateForces(air: SidewaysForce, map: PlateForceMap): SidewaysForce {
  const point = new Float64Array(2);
  const part = new Float64Array(4);
  return (x, y, yaw, out) => {
    air(x, y, yaw, out);
    const u = Math.max(-map.reach, Math.min(map.reach, x));
    const v = Math.max(-map.reach, Math.min(map.reach, y));
    point[0] = map.mirrored ? Math.abs(u) : u;
    point[1] = map.mirrored ? Math.abs(v) : v;
    evaluateChebyshevTensor(map.tensor, point, part);
    // Mirrored: forces turn with their axis; at the axis itself the odd parts vanish.
    const signX = map.mirrored ? Math.sign(u) : 1;
    const signY = map.mirrored ? Math.sign(v) : 1;
    out[0] += signX * part[0];
    out[1] += signY * part[1];
    out[2] += part[2];
    return out;
  };
}

/** Whether turning one axis gives the same layout, poles the same or all exchanged. */
function isMirrored(layout: MagnetLayout, axis: 0 | 1): boolean {
  const { positions, polarity } = layout;
  const count = positions.length / 2;
  const slack = 1e-6;
  let flip = 0;
  for (let i = 0; i < count; i += 1) {
    const x = axis === 0 ? -positions[2 * i] : positions[2 * i];
    const y = axis === 1 ? -positions[2 * i + 1] : positions[2 * i + 1];
    let partner = -1;
    for (let j = 0; j < count; j += 1)
      if (Math.abs(positions[2 * j] - x) < slack && Math.abs(positions[2 * j + 1] - y) < slack) partner = j;
    if (partner < 0) return false;
    const sign = polarity ? polarity[i] * polarity[partner] : 1;
    if (flip !== 0 && sign !== flip) return false;
    flip = sign;
  }
  return true;
}
