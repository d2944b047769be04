/** Dense row-major products. All arrays are distinct. */
import { matrixProduct } from './matrix-product.ts';

/** out += scale A B, A [n, k], B [k, m]. */
export function addProduct(
  a: Float64Array,
  b: Float64Array,
  n: number,
  k: number,
  m: number,
  scale: number,
  out: Float64Array,
): void {
  matrixProduct()(scale === 1 ? a : a.map((value) => scale * value), b, n, k, m, out);
}

/** out += scale A^T B, A [n, k], B [n, m]. */
export function addTransposedProduct(
  a: Float64Array,
  b: Float64Array,
  n: number,
  k: number,
  m: number,
  scale: number,
  out: Float64Array,
): void {
  const transposed = new Float64Array(n * k);
  for (let i = 0; i < n; i++) {
    for (let p = 0; p < k; p++) transposed[p * n + i] = scale * a[i * k + p]!;
  }
  matrixProduct()(transposed, b, k, n, m, out);
}

/** out = A v, A [n, m]; four partial sums. */
export function multiplyVector(a: Float64Array, v: Float64Array, n: number, m: number, out: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let s0 = 0;
    let s1 = 0;
    let s2 = 0;
    let s3 = 0;
    const row = i * m;
    let j = 0;
    for (; j + 3 < m; j += 4) {
      s0 += a[row + j]! * v[j]!;
      s1 += a[row + j + 1]! * v[j + 1]!;
      s2 += a[row + j + 2]! * v[j + 2]!;
      s3 += a[row + j + 3]! * v[j + 3]!;
    }
    for (; j < m; j++) s0 += a[row + j]! * v[j]!;
    out[i] = s0 + s1 + (s2 + s3);
  }
}

/** out = A^T v, A [n, m]. */
export function multiplyTransposed(a: Float64Array, v: Float64Array, n: number, m: number, out: Float64Array): void {
  out.fill(0, 0, m);
  for (let i = 0; i < n; i++) {
    const s = v[i]!;
    const row = i * m;
    for (let j = 0; j < m; j++) out[j] = out[j]! + a[row + j]! * s;
  }
}

/** Sum of a[i] b[i]. */
export function dotProduct(a: Float64Array, b: Float64Array): number {
  let s0 = 0;
  let s1 = 0;
  let i = 0;
  for (; i + 1 < a.length; i += 2) {
    s0 += a[i]! * b[i]!;
    s1 += a[i + 1]! * b[i + 1]!;
  }
  return i < a.length ? s0 + s1 + a[i]! * b[i]! : s0 + s1;
}
