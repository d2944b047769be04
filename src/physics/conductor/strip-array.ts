import { gaussLegendre } from '../../numerics/gauss-legendre.ts';
import type { Neighbour, Station } from './stations.ts';

/**
 * Parallel flat strips in each other's fields, in the plane of their sections: the sheet current across each width in
 * Legendre polynomials, current uniform through the thickness.
 */

/** Polynomials P1..P8 of the current that differs from uniform. */
const MODES = 8;
const FIELD_NODES = 10;
const MOST_SWEEPS = 300;

/** What drives the strips and how they couple; independent of frequency. */
export interface StripArray {
  /** Per station and mode, integral over x = 2u/width of P_m A/mu0 per coil ampere, of all currents taken as uniform. */
  readonly drive: Float64Array;
  /** Per station and neighbour, [MODES, MODES]: potential in mode m by the neighbour's mode n. */
  readonly couplings: readonly (readonly Float64Array[])[];
}

/** Integral of P_m(x) P_n(y) ln|x - y| over the square -1..1: 8 / ((m+n)(m+n+2)((m-n)^2 - 1)) for even m + n above 0. */
function ownLog(m: number, n: number): number {
  if ((m + n) % 2 === 1) return 0;
  return 8 / ((m + n) * (m + n + 2) * ((m - n) ** 2 - 1));
}

/**
 * @param share of the coil current in one strip
 */
export function stripArray(stations: readonly Station[], width: number, share: number): StripArray {
  const { nodes, weights } = gaussLegendre(FIELD_NODES);
  const legendre = Float64Array.from({ length: MODES * FIELD_NODES }, (_, i) =>
    legendreValue(Math.floor(i / FIELD_NODES) + 1, nodes[i % FIELD_NODES]),
  );
  const drive = new Float64Array(MODES * stations.length);
  const field = new Float64Array(2);
  const couplings = stations.map((station, s) => {
    // Filaments and surroundings: the normal field's integral across the width.
    const normal = Float64Array.from(nodes, (x) => {
      station.field((x * width) / 2, 0, field);
      return field[1];
    });
    const potential = integralFromCentre(nodes, normal).map((value) => (value * width) / 2);
    // Neighbours are strips, not filaments: take those out here, their even current comes in below.
    for (const { across, height, current } of station.neighbours) {
      for (let k = 0; k < FIELD_NODES; k++) {
        potential[k] += (current / (2 * Math.PI)) * Math.log(Math.hypot((nodes[k] * width) / 2 - across, height));
      }
    }
    for (let m = 1; m <= MODES; m++) {
      let sum = (-ownLog(m, 0) * share) / (4 * Math.PI);
      for (let k = 0; k < FIELD_NODES; k++) sum += weights[k] * legendre[(m - 1) * FIELD_NODES + k] * potential[k];
      drive[s * MODES + m - 1] = sum;
    }
    return station.neighbours.map((neighbour) => {
      const table = neighbourLog(neighbour, width);
      for (let m = 1; m <= MODES; m++) {
        drive[s * MODES + m - 1] -= (table[m * (MODES + 1)] * neighbour.current) / (4 * Math.PI);
      }
      return Float64Array.from(
        { length: MODES * MODES },
        (_, i) => table[(Math.floor(i / MODES) + 1) * (MODES + 1) + (i % MODES) + 1],
      );
    });
  });
  return { drive, couplings };
}

/**
 * Extra loss of the strips over even current.
 *
 * @param flux width x thickness / depth^2, dimensionless
 * @returns per station the sum over modes of |k_m|^2 2/(2m+1), k_m in units of 1/width per coil ampere: times
 *   (resistivity / thickness) / (2 width) the loss per metre per square (rms) ampere; NaN where the sweeps did not settle
 */
export function stripLoss(stations: readonly Station[], array: StripArray, flux: number): Float64Array {
  const n = stations.length;
  const inverse = ownInverse(flux);
  const k = new Float64Array(2 * MODES * n);
  const right = new Float64Array(2 * MODES);
  let change = Number.POSITIVE_INFINITY;
  let size = 0;
  for (let sweep = 0; sweep < MOST_SWEEPS && change > 1e-6 * size; sweep++) {
    change = 0;
    size = 0;
    for (let s = 0; s < n; s++) {
      // k (2/(2m+1)) + j flux [2 drive + sum of (-1/2 pi) logs k] = 0, with k in units of 1/width.
      for (let m = 0; m < MODES; m++) {
        right[2 * m] = 0;
        right[2 * m + 1] = -2 * flux * array.drive[s * MODES + m];
      }
      const { neighbours } = stations[s];
      for (let j = 0; j < neighbours.length; j++) {
        const table = array.couplings[s][j];
        const other = 2 * MODES * neighbours[j].station;
        for (let m = 0; m < MODES; m++) {
          let re = 0;
          let im = 0;
          for (let l = 0; l < MODES; l++) {
            re += table[m * MODES + l] * k[other + 2 * l];
            im += table[m * MODES + l] * k[other + 2 * l + 1];
          }
          right[2 * m] -= (flux / (2 * Math.PI)) * im;
          right[2 * m + 1] += (flux / (2 * Math.PI)) * re;
        }
      }
      for (let m = 0; m < MODES; m++) {
        let re = 0;
        let im = 0;
        for (let l = 0; l < MODES; l++) {
          const at = 2 * (m * MODES + l);
          re += inverse[at] * right[2 * l] - inverse[at + 1] * right[2 * l + 1];
          im += inverse[at] * right[2 * l + 1] + inverse[at + 1] * right[2 * l];
        }
        const at = 2 * (s * MODES + m);
        change = Math.max(change, Math.abs(re - k[at]), Math.abs(im - k[at + 1]));
        size = Math.max(size, Math.abs(re), Math.abs(im));
        k[at] = re;
        k[at + 1] = im;
      }
    }
  }
  const loss = new Float64Array(n);
  if (change > 1e-4 * size) return loss.fill(Number.NaN);
  for (let s = 0; s < n; s++) {
    for (let m = 0; m < MODES; m++) {
      const at = 2 * (s * MODES + m);
      loss[s] += (k[at] ** 2 + k[at + 1] ** 2) * (2 / (2 * m + 3));
    }
  }
  return loss;
}

/** Inverse of diag(2/(2m+1)) - (j flux / 2 pi) ownLog, [MODES, MODES, 2], by Gauss-Jordan (diagonally dominant). */
function ownInverse(flux: number): Float64Array {
  const n = MODES;
  const a = new Float64Array(2 * n * n);
  const inverse = new Float64Array(2 * n * n);
  for (let m = 0; m < n; m++) {
    for (let l = 0; l < n; l++) a[2 * (m * n + l) + 1] = (-flux / (2 * Math.PI)) * ownLog(m + 1, l + 1);
    a[2 * (m * n + m)] = 2 / (2 * m + 3);
    inverse[2 * (m * n + m)] = 1;
  }
  for (let c = 0; c < n; c++) {
    const pRe = a[2 * (c * n + c)];
    const pIm = a[2 * (c * n + c) + 1];
    const norm = pRe * pRe + pIm * pIm;
    for (const matrix of [a, inverse]) {
      for (let l = 0; l < n; l++) {
        const at = 2 * (c * n + l);
        const re = (matrix[at] * pRe + matrix[at + 1] * pIm) / norm;
        matrix[at + 1] = (matrix[at + 1] * pRe - matrix[at] * pIm) / norm;
        matrix[at] = re;
      }
    }
    for (let r = 0; r < n; r++) {
      if (r === c) continue;
      const fRe = a[2 * (r * n + c)];
      const fIm = a[2 * (r * n + c) + 1];
      for (const matrix of [a, inverse]) {
        for (let l = 0; l < n; l++) {
          const from = 2 * (c * n + l);
          const to = 2 * (r * n + l);
          matrix[to] -= fRe * matrix[from] - fIm * matrix[from + 1];
          matrix[to + 1] -= fRe * matrix[from + 1] + fIm * matrix[from];
        }
      }
    }
  }
  return inverse;
}

/** Integrals of P_m(x) P_n(y) ln(distance) over two strips, m and n from 0, lengths in half widths; [MODES+1, MODES+1]. */
function neighbourLog({ across, height }: Neighbour, width: number): Float64Array {
  const dx = (2 * across) / width;
  const dz = (2 * height) / width;
  // Strips face to face at a small height need many points, edge to edge the logarithm is mild.
  const order = Math.abs(dx) < 2 && Math.abs(dz) < 0.5 ? 64 : 20;
  const { nodes, weights } = gaussLegendre(order);
  const count = MODES + 1;
  const values = Float64Array.from({ length: count * order }, (_, i) =>
    legendreValue(Math.floor(i / order), nodes[i % order]),
  );
  const table = new Float64Array(count * count);
  const inner = new Float64Array(count);
  for (let i = 0; i < order; i++) {
    inner.fill(0);
    for (let j = 0; j < order; j++) {
      const u = nodes[i] - nodes[j] - dx;
      const log = (weights[j] * Math.log(u * u + dz * dz)) / 2;
      for (let n = 0; n < count; n++) inner[n] += values[n * order + j] * log;
    }
    for (let m = 0; m < count; m++) {
      const factor = weights[i] * values[m * order + i];
      for (let n = 0; n < count; n++) table[m * count + n] += factor * inner[n];
    }
  }
  return table;
}

function legendreValue(degree: number, x: number): number {
  let previous = 1;
  let value = x;
  if (degree === 0) return 1;
  for (let k = 2; k <= degree; k++) [previous, value] = [value, ((2 * k - 1) * x * value - (k - 1) * previous) / k];
  return value;
}

/** Integral from 0 to each node of the polynomial through the values at the nodes. */
function integralFromCentre(x: Float64Array, values: Float64Array): Float64Array {
  const n = x.length;
  const { nodes, weights } = gaussLegendre(Math.ceil(n / 2));
  return Float64Array.from(x, (end) => {
    let sum = 0;
    for (let i = 0; i < nodes.length; i++) {
      const s = (end * (nodes[i] + 1)) / 2;
      let value = 0;
      for (let k = 0; k < n; k++) {
        let basis = values[k];
        for (let l = 0; l < n; l++) if (l !== k) basis *= (s - x[l]) / (x[k] - x[l]);
        value += basis;
      }
      sum += (weights[i] * end * value) / 2;
    }
    return sum;
  });
}
