/** Outcome of `gmres`. */
export interface GmresResult {
  /** Steps taken, one product with the matrix each (and one more for a start that is not zero). */
  readonly evaluations: number;
  /** Last relative residual. */
  readonly residual: number;
  readonly converged: boolean;
}

/**
 * Solves A x = b by the generalised minimal residual method without restart, from x = 0.
 *
 * @param apply writes A v into out (the two never alias)
 * @param b right side, [n]; not written to
 * @param x solution, [n], written
 * @param tolerance wanted residual over |b|
 * @param maxSteps at most this many products; scratch of (maxSteps + 1) n numbers is made per call
 * Method: Arnoldi by modified Gram-Schmidt, Givens rotations. b = 0 gives x = 0 in no step.
 * Source: Y. Saad, M. H. Schultz, SIAM J. Sci. Stat. Comput. 7 (1986) 856 (from memory).
 */
export function gmres(
  apply: (v: Float64Array, out: Float64Array) => void,
  b: Float64Array,
  x: Float64Array,
  tolerance: number,
  maxSteps: number,
): GmresResult {
  const n = b.length;
  x.fill(0);
  const norm = Math.sqrt(dot(b, b));
  if (norm === 0) return { evaluations: 0, residual: 0, converged: true };
  const basis: Float64Array[] = [b.map((v) => v / norm)];
  const stride = maxSteps + 1;
  const h = new Float64Array(stride * maxSteps);
  const cos = new Float64Array(maxSteps);
  const sin = new Float64Array(maxSteps);
  const rhs = new Float64Array(stride);
  rhs[0] = norm;
  let steps = 0;
  let residual = 1;
  while (steps < maxSteps && residual > tolerance) {
    const k = steps;
    const w = new Float64Array(n);
    apply(basis[k]!, w);
    for (let i = 0; i <= k; i++) {
      const q = basis[i]!;
      const part = dot(w, q);
      h[i * maxSteps + k] = part;
      for (let m = 0; m < n; m++) w[m] = w[m]! - part * q[m]!;
    }
    const length = Math.sqrt(dot(w, w));
    for (let i = 0; i < k; i++) {
      const upper = h[i * maxSteps + k]!;
      const lower = h[(i + 1) * maxSteps + k]!;
      h[i * maxSteps + k] = cos[i]! * upper + sin[i]! * lower;
      h[(i + 1) * maxSteps + k] = cos[i]! * lower - sin[i]! * upper;
    }
    const pivot = Math.hypot(h[k * maxSteps + k]!, length);
    steps++;
    if (pivot === 0) break;
    cos[k] = h[k * maxSteps + k]! / pivot;
    sin[k] = length / pivot;
    h[k * maxSteps + k] = pivot;
    rhs[k + 1] = -sin[k]! * rhs[k]!;
    rhs[k] = cos[k]! * rhs[k]!;
    residual = Math.abs(rhs[k + 1]!) / norm;
    if (length === 0) break;
    for (let m = 0; m < n; m++) w[m] = w[m]! / length;
    basis.push(w);
  }
  for (let i = steps - 1; i >= 0; i--) {
    let sum = rhs[i]!;
    for (let k = i + 1; k < steps; k++) sum -= h[i * maxSteps + k]! * rhs[k]!;
    rhs[i] = sum / h[i * maxSteps + i]!;
  }
  for (let i = 0; i < steps; i++) {
    const q = basis[i]!;
    const c = rhs[i]!;
    for (let m = 0; m < n; m++) x[m] = x[m]! + c * q[m]!;
  }
  return { evaluations: steps, residual, converged: residual <= tolerance };
}

function dot(a: Float64Array, b: Float64Array): number {
  let s0 = 0;
  let s1 = 0;
  let i = 0;
  for (; i + 1 < a.length; i += 2) {
    s0 += a[i]! * b[i]!;
    s1 += a[i + 1]! * b[i + 1]!;
  }
  return i < a.length ? s0 + s1 + a[i]! * b[i]! : s0 + s1;
}
