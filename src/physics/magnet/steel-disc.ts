/** A disc magnet facing a steel disc of about its own size. */

import { chebyshevPoints, fitChebyshev } from '../../numerics/chebyshev.ts';
import { InputError } from '../../numerics/errors.ts';
import { checkDisc } from './disc-pair.ts';
import { addDiscPotential, plateCharges, plateOnDiscs, type SoftPlate, softPlate } from './soft-plate.ts';
import { type DiscMagnet, type PairProfile, PROFILE_NODES } from './types.ts';

/** A steel disc, unsaturated. */
export interface SteelDisc {
  /** m */
  readonly radius: number;
  /** m */
  readonly thickness: number;
  readonly relativePermeability: number;
}

/** Relative permeability taken for mild steel; above a few hundred it hardly matters. Common practice, no source. */
export const STEEL_PERMEABILITY = 1000;

/** The steel disc as a body of panels fine enough for a magnet at this gap. */
export function steelDiscPlate(steel: SteelDisc, gap: number): SoftPlate {
  for (const [key, value] of Object.entries(steel))
    if (!(value > 0))
      throw new InputError({
        code: 'steel-disc',
        path: `steel.${key}`,
        required: 'a number > 0',
        received: `${value}`,
      });
  const cell = Math.min(steel.radius / 6, Math.max(gap / 2, steel.radius / 10));
  return softPlate({ shape: 'circle', diameter: 2 * steel.radius }, steel.thickness, steel.relativePermeability, {
    cell,
    layers: 2,
  });
}

/**
 * Pull, restoring force and tipping torque of a magnet over a steel disc against offset, as a profile like that of two magnets.
 *
 * A steel disc pulls less than the large plate of `steelPlatePull` (about half at its own size), because the flux that enters
 * under the pole has to leave through the rim; and a disc no larger than the magnet does not centre it: the magnet
 * prefers to sit with its edge over the steel, and the restoring force is negative near home.
 * Accuracy: 1 % of the pull (panels refined by two change it by less), against the image method for wide plates 0.5 %
 * (tests/physics/magnet). About 50 to 500 ms.
 */
export function steelDiscProfile(disc: DiscMagnet, steel: SteelDisc, gap: number, reach: number): PairProfile {
  checkDisc(disc, 'disc');
  const plate = steelDiscPlate(steel, gap);
  const edge = disc.radius + steel.radius;
  const ends = [0];
  while (ends[ends.length - 1] < reach) {
    const from = ends[ends.length - 1];
    ends.push(Math.min(reach, from < edge ? from + edge / 2 : 2 * from));
  }
  const coefficients = new Float64Array((ends.length - 1) * 3 * PROFILE_NODES);
  const height = (steel.thickness + disc.thickness) / 2 + gap;
  for (let p = 0; p + 1 < ends.length; p += 1) {
    const points = chebyshevPoints(PROFILE_NODES, ends[p], ends[p + 1]);
    const forces = Array.from(points, (x) => steelDiscForce(plate, disc, x, height));
    for (const [which, values] of [
      forces.map((f) => f.pull),
      forces.map((f) => f.restoring),
      forces.map((f) => f.tipping),
    ].entries())
      coefficients.set(fitChebyshev(values, ends[p], ends[p + 1]).coefficients, (3 * p + which) * PROFILE_NODES);
  }
  return { ends: Float64Array.from(ends), coefficients };
}

/** Force on the magnet at an offset along x, its centre `height` over the steel's middle. */
export function steelDiscForce(
  plate: SoftPlate,
  disc: DiscMagnet,
  offset: number,
  height: number,
): { readonly pull: number; readonly restoring: number; readonly tipping: number } {
  const placed = [{ disc, x: offset, y: 0, z: height }];
  const charges = plateCharges(plate, addDiscPotential(plate, placed, new Float64Array(plate.panels)));
  const force = plateOnDiscs(plate, placed, charges);
  // Torque about the magnet's own centre: that about the plate's, less the arm to the magnet.
  return {
    pull: -force.fz,
    restoring: offset === 0 ? 0 : -force.fx,
    tipping: offset === 0 ? 0 : force.ty - (height * force.fx - offset * force.fz),
  };
}
