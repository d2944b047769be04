import { choleskyFactor, choleskyInverse } from '../../numerics/cholesky.ts';
import { ConvergenceError } from '../../numerics/errors.ts';
import { mirrorBlocks } from './panel-integrals.ts';
import { interiorBlock } from './plate-interior.ts';
import { IMAGES, type PlateMesh } from './plate-mesh.ts';

/**
 * Linear answer of one ferrite plate to an outside potential: charges q = -G phi (ampere metres per ampere), one block
 * of G, [orbits, orbits], for each of the eight mirror classes of the plate. Class bits as the image bits; a bit set
 * means the class changes sign under that mirror.
 */
export interface PlateResponse {
  readonly mesh: PlateMesh;
  readonly susceptibility: number;
  readonly blocks: readonly Float64Array[];
  /** Interior drop per susceptibility, see `interiorBlock`: G falls by G X G / chi^2 per unit of chi. */
  readonly interior: readonly Float64Array[];
  /** Share of the susceptibility that each cell of the quarter has left, [faceOrbits]; null: all of it everywhere. */
  readonly shares: Float64Array | null;
}

/**
 * Charge-and-flux network of a plate.
 *
 * Unknowns are one uniform charge per surface panel and, inside, the potential u: bilinear over the cells, Legendre
 * polynomials to the third order through the thickness. Panel by panel, mean (P q + phi) = mean u; node by node the
 * flux of chi grad u balances the charges that leave the surface. Eliminating u leaves (P + E K^-1 E^T) q = -phi with
 * neutral charge in the class that is even in everything.
 * All blocks are symmetric positive semidefinite, so the answer is reciprocal and never takes energy out.
 *
 * @param susceptibility mu_r - 1 > 0
 * @param shares of it that each cell of the quarter has left, where a steady flux has taken some, mirrored into the other
 * quarters; the flux that goes on as in air is left out, which counts only where next to nothing is left
 * @throws ConvergenceError where the matrix loses its definiteness to rounding
 */
export function plateResponse(
  mesh: PlateMesh,
  susceptibility: number,
  shares: Float64Array | null = null,
): PlateResponse {
  const blocks = mirrorBlocks(mesh);
  const n = mesh.orbits;
  const interior = blocks.map((block, c) => {
    const drop = interiorBlock(mesh, c, shares);
    for (let i = 0; i < n * n; i++) block[i] = block[i]! + drop[i]! / susceptibility;
    if (!choleskyFactor(block, n)) {
      throw new ConvergenceError('plate-response', 'The plate network lost its definiteness.', { class: c, panels: n });
    }
    choleskyInverse(block, n);
    if (c === 0) makeNeutral(block, n);
    return drop;
  });
  return { mesh, susceptibility, blocks, interior, shares };
}

/** Takes the constant potential out: G - G 1 1^T G / (1^T G 1). */
function makeNeutral(g: Float64Array, n: number): void {
  const row = new Float64Array(n);
  let total = 0;
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let j = 0; j < n; j++) sum += g[i * n + j]!;
    row[i] = sum;
    total += sum;
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) g[i * n + j] = g[i * n + j]! - (row[i]! * row[j]!) / total;
  }
}

/**
 * Charges of an isolated plate in an outside potential: out = -G phi.
 *
 * @param phi [8 * orbits], mean potential on each panel
 * @param out [8 * orbits], may not alias phi
 */
export function respond(response: PlateResponse, phi: Float64Array, out: Float64Array): Float64Array {
  const n = response.mesh.orbits;
  const classes = new Float64Array(IMAGES * n);
  toClasses(phi, n, classes);
  const charges = new Float64Array(IMAGES * n);
  for (let c = 0; c < IMAGES; c++) {
    const g = response.blocks[c]!;
    const base = c * n;
    for (let i = 0; i < n; i++) {
      let s0 = 0;
      let s1 = 0;
      const row = i * n;
      let j = 0;
      for (; j + 1 < n; j += 2) {
        s0 += g[row + j]! * classes[base + j]!;
        s1 += g[row + j + 1]! * classes[base + j + 1]!;
      }
      if (j < n) s0 += g[row + j]! * classes[base + j]!;
      charges[base + i] = -(s0 + s1) / IMAGES;
    }
  }
  toClasses(charges, n, out);
  return out;
}

/** Hadamard transform over the eight images: sum over g of (-1)^(bits of c and g) v[g]; its own inverse times 8. */
export function toClasses(values: Float64Array, n: number, out: Float64Array): void {
  if (out !== values) out.set(values);
  for (let bit = 1; bit < IMAGES; bit <<= 1) {
    for (let g = 0; g < IMAGES; g++) {
      if (g & bit) continue;
      const a = g * n;
      const b = (g | bit) * n;
      for (let o = 0; o < n; o++) {
        const s = out[a + o]!;
        const d = out[b + o]!;
        out[a + o] = s + d;
        out[b + o] = s - d;
      }
    }
  }
}
