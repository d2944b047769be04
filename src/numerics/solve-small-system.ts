/**
 * Solves `A x = b` in place for a small dense system: Gaussian elimination with partial pivoting.
 *
 * @param matrix row-major `[size, size]`, destroyed.
 * @param right `[size]`, replaced by the solution.
 * @returns whether the matrix was regular; when it was not, `right` holds nothing of use.
 *
 * Kernel for inner loops: does not throw, does not allocate. For larger systems use ml-matrix.
 */
export function solveSmallSystem(matrix: Float64Array, right: Float64Array, size: number): boolean {
  for (let column = 0; column < size; column++) {
    let pivot = column;
    let largest = Math.abs(matrix[column * size + column]);
    for (let row = column + 1; row < size; row++) {
      const candidate = Math.abs(matrix[row * size + column]);
      if (candidate > largest) {
        largest = candidate;
        pivot = row;
      }
    }
    if (!(largest > 0) || !Number.isFinite(largest)) return false;
    if (pivot !== column) {
      for (let j = column; j < size; j++) {
        const held = matrix[column * size + j];
        matrix[column * size + j] = matrix[pivot * size + j];
        matrix[pivot * size + j] = held;
      }
      const held = right[column];
      right[column] = right[pivot];
      right[pivot] = held;
    }
    const inverse = 1 / matrix[column * size + column];
    for (let row = column + 1; row < size; row++) {
      const factor = matrix[row * size + column] * inverse;
      if (factor === 0) continue;
      for (let j = column + 1; j < size; j++) matrix[row * size + j] -= factor * matrix[column * size + j];
      right[row] -= factor * right[column];
    }
  }
  for (let row = size - 1; row >= 0; row--) {
    let sum = right[row];
    for (let j = row + 1; j < size; j++) sum -= matrix[row * size + j] * right[j];
    right[row] = sum / matrix[row * size + row];
  }
  return true;
}
