/** Field of one disc magnet outside (and inside) it, in closed form. */
import { bulirschCel } from '../../numerics/bulirsch.ts';
import { MU0 } from '../constants.ts';
import type { DiscMagnet } from './types.ts';

/**
 * Flux density of the disc's current sheet Br/mu0 about the z axis, disc centred at the origin.
 * @param disc the magnet. @param rho distance from the axis, m, >= 0. @param z m.
 * @param out receives B_rho and B_z, T.
 *
 * Inside the magnet this is B (not mu0 H). On the sheet's edge B_z and B_rho diverge like a logarithm; a point closer than
 * 1e-12 radii to the sheet is moved off it. Accuracy: 1e-13 of Br away from the edge (loop sums and reference values of
 * reference-cases/magnets).
 *
 * Source: N. Derby, S. Olbert, "Cylindrical magnets and ideal solenoids", Am. J. Phys. 78 (2010) 229, eqs. 4-8 (from
 * memory; checked against a sum of loops).
 */
export function discField(disc: DiscMagnet, rho: number, z: number, out: Float64Array): Float64Array {
  const a = disc.radius;
  const half = disc.thickness / 2;
  const scale = disc.remanence / Math.PI;
  let gamma = (a - rho) / (a + rho);
  if (Math.abs(gamma) < 1e-12) gamma = 1e-12;
  const p = gamma * gamma;
  let radial = 0;
  let axial = 0;
  for (const sign of [1, -1]) {
    const zp = z + sign * half;
    const far2 = zp * zp + (rho + a) * (rho + a);
    const near2 = zp * zp + gamma * gamma * (a + rho) * (a + rho);
    const root = Math.sqrt(far2);
    const kc = Math.max(Math.sqrt(near2) / root, 1e-150);
    radial += ((sign * a) / root) * bulirschCel(kc, 1, 1, -1);
    if (zp !== 0) axial += ((sign * zp) / root) * bulirschCel(kc, p, 1, gamma);
  }
  out[0] = scale * radial;
  out[1] = ((scale * a) / (a + rho)) * axial;
  return out;
}

/**
 * Scalar potential phi of the disc's field outside it (H = -grad phi), A, disc centred at the origin and magnetised
 * along +z: charges +Br and -Br on its two faces, each in closed form.
 * @param rho m, >= 0. @param z m.
 * Accuracy: 1e-13 of Br a / mu0; its gradient is `discField` outside the magnet (tests/physics/magnet).
 *
 * Source: potential of a uniformly charged disc in complete integrals of all three kinds (E. Durand, Electrostatique I,
 * 1964, from memory; checked by direct integration).
 */
export function discPotential(disc: DiscMagnet, rho: number, z: number): number {
  const half = disc.thickness / 2;
  const scale = disc.remanence / (4 * Math.PI * MU0);
  return scale * (facePotential(disc.radius, rho, z - half) - facePotential(disc.radius, rho, z + half));
}

/** Integral of dS / distance over a disc of radius a at height 0, seen from (rho, z), m. */
function facePotential(a: number, rho: number, z: number): number {
  const h = Math.abs(z);
  const far2 = h * h + (rho + a) * (rho + a);
  const root = Math.sqrt(far2);
  const kc = Math.max(Math.sqrt(h * h + (rho - a) * (rho - a)) / root, 1e-150);
  // 2 root E + 2 (a^2 - rho^2)/root K + 2 h^2 gamma/root Pi(gamma^2) - 2 pi h [rho < a]
  const e = bulirschCel(kc, 1, 1, kc * kc);
  const k = bulirschCel(kc, 1, 1, 1);
  let value = 2 * root * e + (2 * (a * a - rho * rho) * k) / root;
  if (h > 0) {
    const gamma = (a - rho) / (a + rho);
    if (Math.abs(gamma) > 1e-12) value += ((2 * h * h * gamma) / root) * bulirschCel(kc, gamma * gamma, 1, 1);
    value -= rho < a ? 2 * Math.PI * h : Math.abs(gamma) > 1e-12 ? 0 : Math.PI * h;
  }
  return value;
}
