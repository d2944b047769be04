/**
 * Symmetric positive definite band matrix: entry (i, j), i - band <= j <= i, at i * (band + 1) + (j - i + band).
 */
export interface BandMatrix {
  readonly size: number;
  readonly band: number;
  readonly values: Float64Array;
}

export function bandMatrix(size: number, band: number): BandMatrix {
  return { size, band, values: new Float64Array(size * (band + 1)) };
}

/** Adds to entry (i, j); either order of indices. The caller keeps |i - j| <= band. */
export function addToBand(matrix: BandMatrix, i: number, j: number, value: number): void {
  const row = Math.max(i, j);
  const column = Math.min(i, j);
  const at = row * (matrix.band + 1) + (column - row + matrix.band);
  matrix.values[at] = matrix.values[at]! + value;
}

/** Cholesky factor in place. @returns false where a pivot is not positive */
export function bandFactor(matrix: BandMatrix): boolean {
  const { size, band, values } = matrix;
  const w = band + 1;
  for (let i = 0; i < size; i++) {
    const first = Math.max(0, i - band);
    for (let j = first; j <= i; j++) {
      let sum = values[i * w + (j - i + band)]!;
      for (let k = Math.max(first, j - band); k < j; k++) {
        sum -= values[i * w + (k - i + band)]! * values[j * w + (k - j + band)]!;
      }
      if (j < i) {
        values[i * w + (j - i + band)] = sum / values[j * w + band]!;
      } else {
        if (!(sum > 0)) return false;
        values[i * w + band] = Math.sqrt(sum);
      }
    }
  }
  return true;
}

/** Solves L y = b in place (forward half of the solution), b zero before index `from`. */
export function bandForward(factor: BandMatrix, x: Float64Array, from = 0): void {
  const { size, band, values } = factor;
  const w = band + 1;
  for (let i = from; i < size; i++) {
    let sum = x[i]!;
    for (let k = Math.max(from, i - band); k < i; k++) sum -= values[i * w + (k - i + band)]! * x[k]!;
    x[i] = sum / values[i * w + band]!;
  }
}

/** Solves L^T x = y in place (backward half). */
export function bandBackward(factor: BandMatrix, x: Float64Array): void {
  const { size, band, values } = factor;
  const w = band + 1;
  for (let i = size - 1; i >= 0; i--) {
    const v = x[i]! / values[i * w + band]!;
    x[i] = v;
    for (let k = Math.max(0, i - band); k < i; k++) x[k] = x[k]! - values[i * w + (k - i + band)]! * v;
  }
}
