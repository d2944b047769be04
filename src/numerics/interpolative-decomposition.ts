import { reflectionRoom } from './column-reflection.ts';
import { randomSource } from './random.ts';

/** Columns of a matrix as combinations of a few of them: column j is about the sum over k of T[j, k] times chosen k. */
export interface InterpolativeDecomposition {
  readonly rank: number;
  /** Indices of the chosen columns, most independent first, [rank]. */
  readonly chosen: Int32Array;
  /** T, [columns, rank] row-major; the rows of the chosen columns are unit vectors. Least squares where not exact. */
  readonly coefficients: Float64Array;
}

/** Rows of the sketch over the columns it has to tell apart. */
const SKETCH_SHARE = 1.5;
const SKETCH_SPARE = 40;
/** Sketched rows that each row enters. */
const SKETCH_SPREAD = 8;
const SKETCH_SEED = 20260101;

/**
 * Fewer rows in which lengths and angles of the columns survive to some tens of per cent: every row is added to a few of
 * them with random signs. Always the same signs, so that results repeat.
 *
 * Source: sparse sign embedding, D. Kane, J. Nelson, J. ACM 61 (2014) 4; P.-G. Martinsson, J. Tropp, Acta Numerica 29
 * (2020) 403, section 9 (from memory).
 */
function sketch(a: Float64Array, rows: number, columns: number, wanted: number): Float64Array {
  const random = randomSource(SKETCH_SEED);
  const target = new Int32Array(rows * SKETCH_SPREAD);
  const sign = new Float64Array(target.length);
  for (let i = 0; i < target.length; i++) {
    target[i] = Math.min(wanted - 1, Math.floor(wanted * random.uniform()));
    sign[i] = random.uniform() < 0.5 ? -1 : 1;
  }
  const out = new Float64Array(columns * wanted);
  for (let j = 0; j < columns; j++) {
    const to = j * wanted;
    for (let row = 0, i = 0; row < rows; row++) {
      const value = a[j * rows + row]!;
      for (let s = 0; s < SKETCH_SPREAD; s++, i++) out[to + target[i]!] = out[to + target[i]!]! + sign[i]! * value;
    }
  }
  return out;
}

/**
 * Interpolative decomposition by Householder QR with column pivoting, on a sketch where there are far more rows than
 * columns.
 *
 * @param a the matrix, column after column, each `rows` long
 * @param tolerance stops where no column left over has a norm above this share of the largest column's norm
 * @param eligible only the first so many columns may be chosen (and count for the tolerance); the others are fitted
 * Accuracy: every column is met to about the tolerance times a factor below sqrt(1 + rank (columns - rank)), in
 * practice a few.
 * Source: H. Cheng et al., SIAM J. Sci. Comput. 26 (2005) 1389 (from memory).
 */
export function interpolativeDecomposition(
  a: Float64Array,
  rows: number,
  columns: number,
  tolerance: number,
  eligible = columns,
): InterpolativeDecomposition {
  const wanted = Math.ceil(SKETCH_SHARE * columns + SKETCH_SPARE);
  if (rows <= 1.5 * wanted) return decompose(a, rows, columns, tolerance, eligible);
  return decompose(sketch(a, rows, columns, wanted), wanted, columns, tolerance, eligible);
}

function decompose(
  matrix: Float64Array,
  rows: number,
  columns: number,
  tolerance: number,
  eligible: number,
): InterpolativeDecomposition {
  const room = reflectionRoom(rows, columns);
  const { values: a, stride } = room;
  for (let j = 0; j < columns; j++) a.set(matrix.subarray(j * rows, (j + 1) * rows), j * stride);
  // Columns change places, so that those not chosen yet stand side by side.
  const order = Int32Array.from({ length: columns }, (_, j) => j);
  const norms = new Float64Array(columns);
  for (let j = 0; j < eligible; j++) norms[j] = tailNorm(a, j * stride, 0, rows);
  const floor = tolerance * Math.sqrt(norms.reduce((m, v) => Math.max(m, v), 0));
  const spare = new Float64Array(stride);
  let rank = 0;
  for (; rank < Math.min(rows, eligible); rank++) {
    const k = rank;
    let best = k;
    for (let j = k; j < eligible; j++) if (norms[j]! > norms[best]!) best = j;
    // Downdated norms lose digits; the pivot's own is taken anew.
    const length = Math.sqrt(tailNorm(a, best * stride, k, rows));
    norms[best] = length * length;
    if (length <= floor) {
      let stale = false;
      for (let j = k; j < eligible; j++) {
        norms[j] = tailNorm(a, j * stride, k, rows);
        if (norms[j]! > floor * floor) stale = true;
      }
      if (!stale) break;
      rank--;
      continue;
    }
    if (best !== k) {
      spare.set(a.subarray(k * stride, (k + 1) * stride));
      a.copyWithin(k * stride, best * stride, (best + 1) * stride);
      a.set(spare, best * stride);
      norms[best] = norms[k]!;
      const index = order[best]!;
      order[best] = order[k]!;
      order[k] = index;
    }
    const base = k * stride;
    const head = a[base + k]!;
    const alpha = head > 0 ? -length : length;
    // Reflector v = x - alpha e_k in place of the column, which becomes alpha e_k after it has been applied.
    a[base + k] = head - alpha;
    room.reflect(base + k, base + stride + k, columns - k - 1, rows - k, 1 / (alpha * (head - alpha)));
    a[base + k] = alpha;
    a.fill(0, base + k + 1, base + rows);
    for (let j = k + 1; j < eligible; j++) norms[j] = Math.max(0, norms[j]! - a[j * stride + k]! ** 2);
  }
  const coefficients = new Float64Array(columns * rank);
  for (let j = 0; j < columns; j++) {
    const target = order[j]! * rank;
    if (j < rank) {
      coefficients[target + j] = 1;
      continue;
    }
    const column = j * stride;
    for (let i = rank - 1; i >= 0; i--) {
      let sum = a[column + i]!;
      for (let k = i + 1; k < rank; k++) sum -= a[k * stride + i]! * coefficients[target + k]!;
      coefficients[target + i] = sum / a[i * stride + i]!;
    }
  }
  return { rank, chosen: order.slice(0, rank), coefficients };
}

function tailNorm(a: Float64Array, base: number, from: number, rows: number): number {
  let sum = 0;
  for (let i = from; i < rows; i++) sum += a[base + i]! * a[base + i]!;
  return sum;
}
