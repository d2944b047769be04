/**
 * Exponentials of one small matrix at every power of two of a time step, as differences from the identity.
 *
 * For `dx/dt = A x` the flow over `finestStep * 2^level` is `x + E[level] x` with `E = exp(A t) - I`. Keeping the difference
 * from the identity avoids losing the slow motion to rounding when tiny steps are doubled many times.
 *
 * @param matrix row-major `[size, size]`, 1/s; rows from `activeRows` on must be zero (constants carried as states).
 * @param size matrix size.
 * @param activeRows number of leading rows that are not identically zero.
 * @param finestStep s, > 0.
 * @param levels how many powers of two to store.
 * @param out `[levels, size, size]` row-major, filled and returned; rows from `activeRows` on stay zero.
 *
 * Accuracy: relative error of each `E` about 1e-14 times the spread of the matrix entries' scales (tests compare with closed forms).
 * Method: Taylor series of order 8 at a step short enough for the matrix norm, then `E(2t) = 2 E(t) + E(t)^2`.
 * Source: scaling and squaring, Moler and Van Loan, SIAM Review 45 (2003) 3, method 3, from memory; the form with `exp - I` is elementary.
 */
export function exponentialLadder(
  matrix: Float64Array,
  size: number,
  activeRows: number,
  finestStep: number,
  levels: number,
  out: Float64Array,
): Float64Array {
  const block = size * size;
  let norm = 0;
  for (let i = 0; i < activeRows; i++) {
    let rowSum = 0;
    for (let j = 0; j < size; j++) rowSum += Math.abs(matrix[i * size + j]);
    if (rowSum > norm) norm = rowSum;
  }
  // Mixed units make the norm pessimistic, which costs a few doublings only.
  let halvings = 0;
  let step = finestStep;
  while (norm * step > 0.05 && halvings < 200) {
    step /= 2;
    halvings++;
  }
  const current = new Float64Array(block);
  const next = new Float64Array(block);
  taylor(matrix, size, activeRows, step, current, next);
  for (let k = 0; k < halvings; k++) {
    double(current, 0, size, activeRows, next, 0);
    current.set(next);
  }
  out.set(current, 0);
  for (let level = 1; level < levels; level++) {
    double(out, (level - 1) * block, size, activeRows, out, level * block);
  }
  return out;
}

const TAYLOR_ORDER = 8;

function taylor(
  a: Float64Array,
  size: number,
  rows: number,
  step: number,
  out: Float64Array,
  term: Float64Array,
): void {
  const scratch = new Float64Array(size * size);
  for (let i = 0; i < rows * size; i++) {
    term[i] = a[i] * step;
    out[i] = term[i];
  }
  for (let order = 2; order <= TAYLOR_ORDER; order++) {
    const factor = step / order;
    for (let i = 0; i < rows; i++) {
      for (let j = 0; j < size; j++) {
        let sum = 0;
        for (let k = 0; k < rows; k++) sum += a[i * size + k] * term[k * size + j];
        scratch[i * size + j] = sum * factor;
      }
    }
    for (let i = 0; i < rows * size; i++) {
      term[i] = scratch[i];
      out[i] += scratch[i];
    }
  }
}

/** `target = 2 source + source * source`, where rows from `rows` on are zero. */
function double(
  source: Float64Array,
  from: number,
  size: number,
  rows: number,
  target: Float64Array,
  to: number,
): void {
  for (let i = 0; i < rows; i++) {
    const row = from + i * size;
    for (let j = 0; j < size; j++) {
      let sum = 2 * source[row + j];
      for (let k = 0; k < rows; k++) sum += source[row + k] * source[from + k * size + j];
      target[to + i * size + j] = sum;
    }
  }
}
