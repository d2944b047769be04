/** A disc magnet facing steel that is flat, unsaturated and much larger than the magnet: the method of images. */
import { InputError } from '../../numerics/errors.ts';
import { gaussLegendre } from '../../numerics/gauss-legendre.ts';
import { MU0 } from '../constants.ts';
import { discField } from './disc-field.ts';
import { checkDisc, discPairForce } from './disc-pair.ts';
import { discForce } from './sheet-force.ts';
import type { DiscMagnet } from './types.ts';

export interface SteelPlatePull {
  /** Attraction to a plate without edges, N: the upper bound for any flat piece of steel. */
  readonly pull: number;
  /**
   * Share of that pull that acts within `plateRadius` of the axis, 0 to 1, by the stress on the endless plate: a first
   * estimate of what a piece of that size keeps (an end effect of about a tenth is left out).
   */
  readonly share: number;
  /** Thickness at which the steel carries the magnet's flux at `saturation`, m; thinner steel pulls less. */
  readonly thicknessNeeded: number;
}

/** Commonly assumed for mild steel sheet, T. Common practice, no source. */
export const STEEL_SATURATION = 1.6;

const field = new Float64Array(2);

/**
 * Pull of a disc on a large steel plate parallel to its face.
 * @param disc the magnet. @param gap face to steel, m, >= 0. @param plateRadius of the piece of steel, m, > 0.
 * @param relativePermeability of the steel; the image has strength (mu - 1)/(mu + 1).
 *
 * The image is the same disc at twice the gap, so that the pull is that of two discs 2 gap apart. There is no sideways
 * force and no torque as long as the magnet stays over the plate. Valid while the steel reaches at least two magnet radii
 * plus two gaps beyond the axis and is at least `thicknessNeeded` thick; smaller pieces pull less (the energy of a soft body
 * grows with every part added to it).
 * Accuracy: as discPairForce; the stress integral of the same plate agrees to 1e-6 (tests/physics/magnet).
 */
export function steelPlatePull(
  disc: DiscMagnet,
  gap: number,
  plateRadius: number,
  relativePermeability = 1000,
  saturation = STEEL_SATURATION,
): SteelPlatePull {
  checkDisc(disc, 'disc');
  if (!(plateRadius > 0))
    throw new InputError({
      code: 'steel-size',
      path: 'plateRadius',
      required: 'a length > 0 m',
      received: `${plateRadius} m`,
    });
  const image = imageFactor(relativePermeability);
  const whole = discPairForce(disc, disc, 0, 2 * gap).pull;
  let within = 0;
  let flux = 0;
  let needed = 0;
  const ends = stressPanels(disc.radius, Math.max(gap, 1e-4 * disc.radius), plateRadius);
  const rule = gaussLegendre(12);
  for (let k = 0; k + 1 < ends.length; k += 1) {
    const half = (ends[k + 1] - ends[k]) / 2;
    const mid = (ends[k + 1] + ends[k]) / 2;
    for (let i = 0; i < rule.nodes.length; i += 1) {
      const rho = mid + half * rule.nodes[i];
      discField(disc, rho, -(gap + disc.thickness / 2), field);
      // On the plate the image doubles the normal part and cancels the other.
      const normal = 2 * field[1];
      const ring = 2 * Math.PI * rho * half * rule.weights[i];
      within += (ring * normal * normal) / (2 * MU0);
      flux += ring * normal;
    }
    needed = Math.max(needed, Math.abs(flux) / (2 * Math.PI * ends[k + 1] * saturation));
  }
  return {
    pull: image * whole,
    share: whole > 0 ? Math.min(1, within / whole) : 0,
    thicknessNeeded: image * needed,
  };
}

/**
 * Pull and torque on a disc tilted against a large steel plate; the image is tilted the other way.
 * @param centreHeight of the disc's centre over the steel, m. @param tilt rad.
 * @returns `pull` N and `righting` torque about the disc's centre, N m, positive when it turns the face towards the steel.
 */
export function tiltedSteelPull(
  disc: DiscMagnet,
  centreHeight: number,
  tilt: number,
  relativePermeability = 1000,
): { readonly pull: number; readonly righting: number } {
  // In the image's own frame: the image leans by -tilt, the disc by 2 tilt against it.
  const c = Math.cos(tilt);
  const s = Math.sin(tilt);
  const distance = 2 * centreHeight;
  const force = discForce(disc, disc, {
    x: distance * s,
    y: 0,
    z: distance * c,
    yaw: 0,
    tiltX: 0,
    tiltY: 2 * tilt,
  });
  const image = imageFactor(relativePermeability);
  return { pull: -image * (force.fz * c + force.fx * s), righting: -image * force.ty };
}

function imageFactor(relativePermeability: number): number {
  if (!(relativePermeability >= 1))
    throw new InputError({
      code: 'steel-permeability',
      path: 'relativePermeability',
      required: 'a number >= 1',
      received: `${relativePermeability}`,
    });
  return Number.isFinite(relativePermeability) ? (relativePermeability - 1) / (relativePermeability + 1) : 1;
}

/** Panel ends from 0 to `end`, graded towards the magnet's edge where the normal field changes within the gap. */
function stressPanels(edge: number, gap: number, end: number): number[] {
  const ends = new Set<number>([0, end]);
  const add = (r: number) => {
    if (r > 0 && r < end) ends.add(r);
  };
  add(edge);
  for (let d = gap; d < 20 * end; d *= 2) {
    add(edge - d);
    add(edge + d);
  }
  return [...ends].sort((a, b) => a - b);
}
