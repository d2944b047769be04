import { panelPotential } from './panel-potential.ts';
import { type PanelSet, panelPoints } from './panel-set.ts';
import { IMAGES, type PlateMesh } from './plate-mesh.ts';

const points = new Float64Array(4 * 64);

/** Distances, in units of the larger panel, up to which mean potentials take 6 x 6, 4 x 4 and 2 x 2 exact points. */
const TOUCHING = 0.8;
const NEAR = 1.6;
const MIDDLE = 4;

/**
 * Mean over panel i of `to` of the potential of a unit charge on panel j of `from`, 1/m.
 *
 * Relative accuracy about 1e-4 for touching panels, 1e-5 beyond two panel sizes.
 */
export function meanPotential(to: PanelSet, i: number, from: PanelSet, j: number): number {
  const rx = to.centre[3 * i]! - from.centre[3 * j]!;
  const ry = to.centre[3 * i + 1]! - from.centre[3 * j + 1]!;
  const rz = to.centre[3 * i + 2]! - from.centre[3 * j + 2]!;
  const r2 = rx * rx + ry * ry + rz * rz;
  const size = Math.max(to.size[i]!, from.size[j]!);
  const s2 = size * size;
  if (r2 > MIDDLE * MIDDLE * s2) {
    const a = 6 * i;
    const b = 6 * j;
    const m = to.moment;
    const q = from.moment;
    const xx = m[a]! + q[b]!;
    const yy = m[a + 1]! + q[b + 1]!;
    const zz = m[a + 2]! + q[b + 2]!;
    const xy = m[a + 3]! + q[b + 3]!;
    const xz = m[a + 4]! + q[b + 4]!;
    const yz = m[a + 5]! + q[b + 5]!;
    const along = rx * rx * xx + ry * ry * yy + rz * rz * zz + 2 * (rx * ry * xy + rx * rz * xz + ry * rz * yz);
    const inverse = 1 / Math.sqrt(r2);
    const inverse2 = inverse * inverse;
    return (inverse * (1 + inverse2 * (1.5 * along * inverse2 - 0.5 * (xx + yy + zz)))) / (4 * Math.PI);
  }
  const order = r2 > NEAR * NEAR * s2 ? 2 : r2 > TOUCHING * TOUCHING * s2 ? 4 : 6;
  panelPoints(to, i, order, points);
  let sum = 0;
  for (let k = 0; k < 4 * order * order; k += 4) {
    sum += points[k + 3]! * panelPotential(from, j, points[k]!, points[k + 1]!, points[k + 2]!);
  }
  return sum / (4 * Math.PI * from.area[j]!);
}

/** Potential at a point of a unit charge on panel p, 1/m; relative accuracy 3e-5 where it is not exact. */
export function pointPotential(set: PanelSet, p: number, x: number, y: number, z: number): number {
  const rx = x - set.centre[3 * p]!;
  const ry = y - set.centre[3 * p + 1]!;
  const rz = z - set.centre[3 * p + 2]!;
  const r2 = rx * rx + ry * ry + rz * rz;
  const size = set.size[p]!;
  if (r2 < 9 * size * size) return panelPotential(set, p, x, y, z) / (4 * Math.PI * set.area[p]!);
  const a = 6 * p;
  const m = set.moment;
  const along =
    rx * rx * m[a]! +
    ry * ry * m[a + 1]! +
    rz * rz * m[a + 2]! +
    2 * (rx * ry * m[a + 3]! + rx * rz * m[a + 4]! + ry * rz * m[a + 5]!);
  const inverse = 1 / Math.sqrt(r2);
  const inverse2 = inverse * inverse;
  return (inverse * (1 + inverse2 * (1.5 * along * inverse2 - 0.5 * (m[a]! + m[a + 1]! + m[a + 2]!)))) / (4 * Math.PI);
}

/**
 * Potential matrix of a plate on itself in its eight mirror classes: block c holds the sum over images g of
 * (-1)^(bits of c and g) times the mean potential on orbit i of a unit charge on image g of orbit j, symmetrised.
 */
export function mirrorBlocks(mesh: PlateMesh): Float64Array[] {
  const n = mesh.orbits;
  const blocks = Array.from({ length: IMAGES }, () => new Float64Array(n * n));
  const values = new Float64Array(IMAGES);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      for (let g = 0; g < IMAGES; g++) {
        const direct = meanPotential(mesh.panels, i, mesh.panels, g * n + j);
        values[g] = i === j ? direct : (direct + meanPotential(mesh.panels, j, mesh.panels, g * n + i)) / 2;
      }
      for (let c = 0; c < IMAGES; c++) {
        let sum = 0;
        for (let g = 0; g < IMAGES; g++) sum += parity(c & g) ? -values[g]! : values[g]!;
        blocks[c]![i * n + j] = sum;
        blocks[c]![j * n + i] = sum;
      }
    }
  }
  return blocks;
}

const parity = (bits: number) => ((bits ^ (bits >> 1) ^ (bits >> 2)) & 1) !== 0;
