/** A flat piece of ferrite or steel in the field of disc magnets: charges it takes on, force between them. */
import { InputError } from '../../numerics/errors.ts';
import type { PlateOutline } from '../coil/types.ts';
import { MU0 } from '../constants.ts';
import { panelPoints } from '../field/panel-set.ts';
import { plateMesh } from '../field/plate-mesh.ts';
import { type PlateResponse, plateResponse, respond } from '../field/plate-response.ts';
import { discField, discPotential } from './disc-field.ts';
import type { DiscMagnet, Wrench } from './types.ts';

/** Points on each panel at which potentials and fields are averaged: order x order, and one in the middle for far sources. */
const ORDER = 2;
const PER_PANEL = ORDER * ORDER;
/** Distance from a disc's rim, in panel sizes, beyond which the middle of a panel stands for its mean (0.3 % at the border). */
const FAR = 4;

/** A plate ready to answer, in its own frame: centred at the origin, level. */
export interface SoftPlate {
  readonly outline: PlateOutline;
  readonly thickness: number;
  readonly relativePermeability: number;
  readonly response: PlateResponse;
  readonly panels: number;
  /** [panels * 4, 4] x y z weight. */
  readonly points: Float64Array;
}

export interface SoftPlateOptions {
  /** Panel size, m; should not exceed the clear distance to the magnets. */
  readonly cell: number;
  /** Layers of rim panels in half the thickness. */
  readonly layers: number;
  /** Share of the susceptibility that each cell of the quarter has left; null or absent: all of it. */
  readonly shares?: Float64Array | null;
}

/** Builds the plate's answer once; a quarter of it is solved for, about 50 to 500 ms. */
export function softPlate(
  outline: PlateOutline,
  thickness: number,
  relativePermeability: number,
  options: SoftPlateOptions,
): SoftPlate {
  if (!(relativePermeability > 1))
    throw new InputError({
      code: 'plate-permeability',
      path: 'relativePermeability',
      required: 'a number > 1',
      received: `${relativePermeability}`,
    });
  const mesh = plateMesh(outline, thickness, options.cell, 1, options.layers);
  const response = plateResponse(mesh, relativePermeability - 1, options.shares ?? null);
  const panels = mesh.panels.count;
  const points = new Float64Array(panels * PER_PANEL * 4);
  for (let p = 0; p < panels; p += 1) panelPoints(mesh.panels, p, ORDER, points.subarray(p * PER_PANEL * 4));
  return { outline, thickness, relativePermeability, response, panels, points };
}

/** A disc magnet with its axis along the plate's normal; centre in the plate's frame, m. */
export interface PlacedDisc {
  readonly disc: DiscMagnet;
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** Mean scalar potential of the discs on each panel, A, added to `out` [panels]. */
export function addDiscPotential(plate: SoftPlate, discs: readonly PlacedDisc[], out: Float64Array): Float64Array {
  const { points } = plate;
  for (const { disc, x, y, z } of discs)
    for (let p = 0; p < plate.panels; p += 1) {
      if (isFar(plate, p, disc, x, y, z)) {
        const c = plate.response.mesh.panels.centre;
        out[p] += discPotential(disc, Math.hypot(c[3 * p] - x, c[3 * p + 1] - y), c[3 * p + 2] - z);
        continue;
      }
      let sum = 0;
      for (let k = 4 * PER_PANEL * p; k < 4 * PER_PANEL * (p + 1); k += 4)
        sum += points[k + 3] * discPotential(disc, Math.hypot(points[k] - x, points[k + 1] - y), points[k + 2] - z);
      out[p] += sum;
    }
  return out;
}

function isFar(plate: SoftPlate, p: number, disc: DiscMagnet, x: number, y: number, z: number): boolean {
  const { centre, size } = plate.response.mesh.panels;
  const away = Math.hypot(centre[3 * p] - x, centre[3 * p + 1] - y, centre[3 * p + 2] - z);
  return away > disc.radius + FAR * size[p];
}

/** Charges on the panels, A m, in an outside mean potential. */
export function plateCharges(plate: SoftPlate, potential: Float64Array): Float64Array {
  return respond(plate.response, potential, new Float64Array(plate.panels));
}

const field = new Float64Array(2);

/**
 * Force on the discs from the charges of the plate, and torque about the plate's centre, in the plate's frame: minus the force
 * of the discs' field on the charges. Exactly the slope of the energy mu0 / 2 sum q phi, because the plate's answer is
 * symmetric.
 */
export function plateOnDiscs(plate: SoftPlate, discs: readonly PlacedDisc[], charges: Float64Array): Wrench {
  const { points } = plate;
  const { centre } = plate.response.mesh.panels;
  const sum = { fx: 0, fy: 0, fz: 0, tx: 0, ty: 0, tz: 0 };
  for (const { disc, x, y, z } of discs) {
    const add = (px: number, py: number, pz: number, charge: number) => {
      const dx = px - x;
      const dy = py - y;
      const rho = Math.hypot(dx, dy);
      discField(disc, rho, pz - z, field);
      // mu0 q H = q B outside the magnet.
      const fx = rho > 0 ? (-charge * field[0] * dx) / rho : 0;
      const fy = rho > 0 ? (-charge * field[0] * dy) / rho : 0;
      const fz = -charge * field[1];
      sum.fx += fx;
      sum.fy += fy;
      sum.fz += fz;
      sum.tx += py * fz - pz * fy;
      sum.ty += pz * fx - px * fz;
      sum.tz += px * fy - py * fx;
    };
    for (let p = 0; p < plate.panels; p += 1) {
      if (isFar(plate, p, disc, x, y, z)) add(centre[3 * p], centre[3 * p + 1], centre[3 * p + 2], charges[p]);
      else
        for (let k = 4 * PER_PANEL * p; k < 4 * PER_PANEL * (p + 1); k += 4)
          add(points[k], points[k + 1], points[k + 2], charges[p] * points[k + 3]);
    }
  }
  return sum;
}

/** Energy of the plate in the field of the discs, J, negative. */
export function plateEnergy(potential: Float64Array, charges: Float64Array): number {
  let sum = 0;
  for (let p = 0; p < charges.length; p += 1) sum += charges[p] * potential[p];
  return (MU0 / 2) * sum;
}

/** Whether a disc's volume and the plate's box overlap: such a plate must have a hole there, which the model does not have. */
export function discInPlate(plate: Pick<SoftPlate, 'outline' | 'thickness'>, placed: PlacedDisc): boolean {
  const { outline, thickness } = plate;
  if (Math.abs(placed.z) >= (thickness + placed.disc.thickness) / 2) return false;
  const r = placed.disc.radius;
  if (outline.shape === 'circle') return Math.hypot(placed.x, placed.y) < outline.diameter / 2 + r;
  const dx = Math.max(0, Math.abs(placed.x) - outline.width / 2);
  const dy = Math.max(0, Math.abs(placed.y) - outline.height / 2);
  return Math.hypot(dx, dy) < r;
}
