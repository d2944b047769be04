import {
  addToBand,
  type BandMatrix,
  bandBackward,
  bandFactor,
  bandForward,
  bandMatrix,
} from '../../numerics/band-cholesky.ts';
import { ConvergenceError } from '../../numerics/errors.ts';
import { gaussLegendre } from '../../numerics/gauss-legendre.ts';
import { type PlateMesh, rimNodes } from './plate-mesh.ts';

/** The potential inside a plate in one mirror class. */
interface Interior {
  /** Polynomial orders through the thickness. */
  readonly orders: readonly number[];
  /** Degree of freedom of node * orders + order, -1 where there is none. */
  readonly dof: Int32Array;
  readonly size: number;
  /** Factored stiffness for susceptibility 1. */
  readonly stiffness: BandMatrix;
}

function interiorOf(mesh: PlateMesh, mirror: number, shares: Float64Array | null): Interior {
  const { cellsX, cellsY } = mesh.grid;
  const oddX = (mirror & 1) !== 0;
  const oddY = (mirror & 2) !== 0;
  const orders = mirror & 4 ? [1, 3] : [0, 2];
  const nodes = (cellsX + 1) * (cellsY + 1);
  const fields = orders.length;
  // Degrees of freedom: node by node, its orders together; nodes on an odd axis have none. The constant is pinned at
  // the first node of the fully even class (its charges are neutral, so the pin carries no flux).
  const dof = new Int32Array(nodes * fields).fill(-1);
  let size = 0;
  for (let node = 0; node < nodes; node++) {
    const i = Math.floor(node / (cellsY + 1));
    const j = node % (cellsY + 1);
    if ((oddX && i === 0) || (oddY && j === 0)) continue;
    for (let f = 0; f < fields; f++) {
      if (mirror === 0 && node === 0 && orders[f] === 0) continue;
      dof[node * fields + f] = size++;
    }
  }
  const stiffness = bandMatrix(size, Math.min(size - 1, fields * (cellsY + 3)));
  assembleStiffness(mesh, orders, dof, shares, stiffness);
  if (!bandFactor(stiffness)) {
    throw new ConvergenceError('plate-interior', 'The flux network inside the plate is singular.', { class: mirror });
  }
  return { orders, dof, size, stiffness };
}

/**
 * E K^-1 E^T of one mirror class: mean potential drop from the inside to each panel per unit charge that leaves through
 * the others, 1/m, for susceptibility 1 (it falls as 1 / susceptibility).
 *
 * In the fully even class the answer holds for charges that add up to zero.
 * @param shares of the susceptibility that each cell of the quarter has left, [faceOrbits], above 0; null: all of it
 * @returns [orbits, orbits], symmetric positive semidefinite
 */
export function interiorBlock(mesh: PlateMesh, mirror: number, shares: Float64Array | null = null): Float64Array {
  const { orders, dof, size, stiffness } = interiorOf(mesh, mirror, shares);
  const n = mesh.orbits;
  const block = new Float64Array(n * n);
  const columns = new Float64Array(n * size);
  for (let o = 0; o < n; o++) {
    const column = columns.subarray(o * size, (o + 1) * size);
    const first = panelMeans(mesh, o, orders, dof, column);
    bandForward(stiffness, column, first);
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = 0; k < size; k++) sum += columns[i * size + k]! * columns[j * size + k]!;
      block[i * n + j] = sum;
      block[j * n + i] = sum;
    }
  }
  return block;
}

/**
 * Gradient of the potential inside at the middle of each cell of the quarter, mean over the thickness, in a class even
 * through the thickness, for susceptibility 1.
 *
 * @param charges on the upper half's panels, [orbits]
 * @param shares see `interiorBlock`
 * @returns [faceOrbits, 2] d/dx, d/dy, A/m times the susceptibility
 */
export function interiorGradient(
  mesh: PlateMesh,
  mirror: number,
  charges: Float64Array,
  shares: Float64Array | null = null,
): Float64Array {
  const { orders, dof, size, stiffness } = interiorOf(mesh, mirror, shares);
  const u = new Float64Array(size);
  const means = new Float64Array(size);
  for (let o = 0; o < mesh.orbits; o++) {
    means.fill(0);
    panelMeans(mesh, o, orders, dof, means);
    for (let k = 0; k < size; k++) u[k] = u[k]! - charges[o]! * means[k]!;
  }
  bandForward(stiffness, u);
  bandBackward(stiffness, u);
  const out = new Float64Array(2 * mesh.faceOrbits);
  for (let cell = 0; cell < mesh.faceOrbits; cell++) {
    const corners = cellNodes(mesh, cell);
    let area = 0;
    overCell(mesh, corners, (_shape, gx, gy, weight) => {
      area += weight;
      for (let k = 0; k < 4; k++) {
        const d = dof[corners[k]! * orders.length]!;
        const value = d < 0 ? 0 : u[d]!;
        out[2 * cell] = out[2 * cell]! + weight * gx[k]! * value;
        out[2 * cell + 1] = out[2 * cell + 1]! + weight * gy[k]! * value;
      }
    });
    out[2 * cell] = out[2 * cell]! / area;
    out[2 * cell + 1] = out[2 * cell + 1]! / area;
  }
  return out;
}

/** Mean of every shape function over panel `orbit`, written into `column`. @returns the first index used */
function panelMeans(
  mesh: PlateMesh,
  orbit: number,
  orders: readonly number[],
  dof: Int32Array,
  column: Float64Array,
): number {
  const { grid, thickness } = mesh;
  const { cellsX, cellsY } = grid;
  const rimEdges = cellsX + cellsY;
  const fields = orders.length;
  let first = column.length;
  const add = (node: number, f: number, value: number) => {
    const d = dof[node * fields + f]!;
    if (d < 0) return;
    column[d] = column[d]! + value;
    first = Math.min(first, d);
  };
  if (orbit < mesh.faceOrbits) {
    const corners = cellNodes(mesh, orbit);
    const shares = cellShares(mesh, corners);
    // Every Legendre polynomial is 1 on the upper face.
    for (let f = 0; f < fields; f++) for (let k = 0; k < 4; k++) add(corners[k]!, f, shares[k]!);
    return first;
  }
  const layer = Math.floor((orbit - mesh.faceOrbits) / rimEdges);
  const ends = rimNodes(grid, (orbit - mesh.faceOrbits) % rimEdges);
  const low = (2 * mesh.layerBorders[layer]!) / thickness;
  const high = (2 * mesh.layerBorders[layer + 1]!) / thickness;
  for (let f = 0; f < fields; f++) {
    const mean = legendreMean(orders[f]!, low, high);
    for (const node of ends) add(node, f, mean / 2);
  }
  return first;
}

function legendreMean(order: number, a: number, b: number): number {
  const integral = (s: number) => {
    if (order === 0) return s;
    if (order === 1) return (s * s) / 2;
    if (order === 2) return (s * s * s - s) / 2;
    return (5 * s ** 4) / 8 - (3 * s * s) / 4;
  };
  return (integral(b) - integral(a)) / (b - a);
}

function cellNodes(mesh: PlateMesh, cell: number): [number, number, number, number] {
  const { cellsY } = mesh.grid;
  const i = Math.floor(cell / cellsY);
  const j = cell % cellsY;
  const at = i * (cellsY + 1) + j;
  return [at, at + cellsY + 1, at + cellsY + 2, at + 1];
}

/** Means of the four bilinear shape functions over a cell. */
function cellShares(mesh: PlateMesh, corners: readonly number[]): number[] {
  const shares = [0, 0, 0, 0];
  let area = 0;
  overCell(mesh, corners, (shape, _gx, _gy, weight) => {
    area += weight;
    for (let k = 0; k < 4; k++) shares[k] = shares[k]! + weight * shape[k]!;
  });
  return shares.map((s) => s / area);
}

/** Stiffness of grad u over the quarter of the upper half of the plate. */
function assembleStiffness(
  mesh: PlateMesh,
  orders: readonly number[],
  dof: Int32Array,
  shares: Float64Array | null,
  out: BandMatrix,
): void {
  const { cellsX, cellsY } = mesh.grid;
  const fields = orders.length;
  const t = mesh.thickness;
  const plane = new Float64Array(16);
  const mass = new Float64Array(16);
  for (let cell = 0; cell < cellsX * cellsY; cell++) {
    const corners = cellNodes(mesh, cell);
    plane.fill(0);
    mass.fill(0);
    const left = shares ? shares[cell]! : 1;
    overCell(mesh, corners, (shape, gx, gy, area) => {
      const weight = left * area;
      for (let a = 0; a < 4; a++) {
        for (let b = 0; b < 4; b++) {
          plane[4 * a + b] = plane[4 * a + b]! + weight * (gx[a]! * gx[b]! + gy[a]! * gy[b]!);
          mass[4 * a + b] = mass[4 * a + b]! + weight * shape[a]! * shape[b]!;
        }
      }
    });
    for (let f = 0; f < fields; f++) {
      for (let h = 0; h <= f; h++) {
        const l = Math.max(orders[f]!, orders[h]!);
        const m = Math.min(orders[f]!, orders[h]!);
        // Half of the integrals of P_l P_m and of their derivatives over the thickness.
        const along = l === m ? t / (2 * (2 * l + 1)) : 0;
        const through = (m * (m + 1)) / t;
        for (let a = 0; a < 4; a++) {
          for (let b = 0; b < 4; b++) {
            const i = dof[corners[a]! * fields + f]!;
            const j = dof[corners[b]! * fields + h]!;
            if (i < 0 || j < 0 || (f === h && i < j)) continue;
            addToBand(out, i, j, along * plane[4 * a + b]! + through * mass[4 * a + b]!);
          }
        }
      }
    }
  }
}

const shape = [0, 0, 0, 0];
const gradX = [0, 0, 0, 0];
const gradY = [0, 0, 0, 0];

/** Calls `visit(shape, d/dx, d/dy, weight)` at the 2 x 2 Gauss points of a bilinear cell. */
function overCell(
  mesh: PlateMesh,
  corners: readonly number[],
  visit: (shape: readonly number[], gradX: readonly number[], gradY: readonly number[], weight: number) => void,
): void {
  const { x, y } = mesh.grid;
  const nodes = gaussLegendre(2).nodes;
  for (const s of nodes) {
    for (const t of nodes) {
      const ds = [-(1 - t) / 4, (1 - t) / 4, (1 + t) / 4, -(1 + t) / 4];
      const dt = [-(1 - s) / 4, -(1 + s) / 4, (1 + s) / 4, (1 - s) / 4];
      let xs = 0;
      let xt = 0;
      let ys = 0;
      let yt = 0;
      for (let k = 0; k < 4; k++) {
        xs += ds[k]! * x[corners[k]!]!;
        xt += dt[k]! * x[corners[k]!]!;
        ys += ds[k]! * y[corners[k]!]!;
        yt += dt[k]! * y[corners[k]!]!;
      }
      const jacobian = xs * yt - xt * ys;
      shape[0] = ((1 - s) * (1 - t)) / 4;
      shape[1] = ((1 + s) * (1 - t)) / 4;
      shape[2] = ((1 + s) * (1 + t)) / 4;
      shape[3] = ((1 - s) * (1 + t)) / 4;
      for (let k = 0; k < 4; k++) {
        gradX[k] = (ds[k]! * yt - dt[k]! * ys) / jacobian;
        gradY[k] = (dt[k]! * xs - ds[k]! * xt) / jacobian;
      }
      visit(shape, gradX, gradY, jacobian);
    }
  }
}
