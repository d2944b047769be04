/**
 * Cholesky factor of a symmetric positive definite matrix, in place: the lower triangle (row-major, leading dimension
 * n) becomes L with A = L L^T, the strict upper triangle is left as it was.
 *
 * @returns false where a pivot is not positive (the matrix is then partly overwritten)
 */
export function choleskyFactor(a: Float64Array, n: number): boolean {
  for (let i = 0; i < n; i++) {
    const ri = i * n;
    for (let j = 0; j < i; j++) a[ri + j] = (a[ri + j]! - dot(a, ri, a, j * n, j)) / a[j * n + j]!;
    const pivot = a[ri + i]! - dot(a, ri, a, ri, i);
    if (!(pivot > 0)) return false;
    a[ri + i] = Math.sqrt(pivot);
  }
  return true;
}

/** Solves L L^T x = b in place for one right side, L from `choleskyFactor`. */
export function choleskySolve(l: Float64Array, n: number, x: Float64Array): void {
  for (let i = 0; i < n; i++) x[i] = (x[i]! - dot(l, i * n, x, 0, i)) / l[i * n + i]!;
  for (let i = n - 1; i >= 0; i--) {
    const v = x[i]! / l[i * n + i]!;
    x[i] = v;
    for (let j = 0; j < i; j++) x[j] = x[j]! - l[i * n + j]! * v;
  }
}

/**
 * Full inverse of a symmetric positive definite matrix, in place, from its Cholesky factor: A^-1 = L^-T L^-1.
 *
 * @param a the factor from `choleskyFactor`; the whole square is overwritten by the symmetric inverse
 */
export function choleskyInverse(a: Float64Array, n: number): void {
  // L^-T row by row into the upper triangle: row j of U = L^-T holds the column j of L^-1, contiguous for the products.
  const inverse = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    const rj = j * n;
    inverse[rj + j] = 1 / a[rj + j]!;
    for (let i = j + 1; i < n; i++) {
      let sum = 0;
      const ri = i * n;
      for (let k = j; k < i; k++) sum += a[ri + k]! * inverse[rj + k]!;
      inverse[rj + i] = -sum / a[ri + i]!;
    }
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      const ri = i * n;
      const rj = j * n;
      for (let k = i; k < n; k++) sum += inverse[ri + k]! * inverse[rj + k]!;
      a[ri + j] = sum;
      a[rj + i] = sum;
    }
  }
}

/** Sum of a[i + k] b[j + k] over k < n, four partial sums. */
function dot(a: Float64Array, i: number, b: Float64Array, j: number, n: number): number {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let k = 0;
  for (; k + 3 < n; k += 4) {
    s0 += a[i + k]! * b[j + k]!;
    s1 += a[i + k + 1]! * b[j + k + 1]!;
    s2 += a[i + k + 2]! * b[j + k + 2]!;
    s3 += a[i + k + 3]! * b[j + k + 3]!;
  }
  for (; k < n; k++) s0 += a[i + k]! * b[j + k]!;
  return s0 + s1 + (s2 + s3);
}
