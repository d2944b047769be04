import { describe, expect, it } from 'vitest';
import { choleskyFactor, choleskyInverse, choleskySolve } from '../../src/numerics/cholesky.ts';

/** Hilbert matrix plus the identity: definite, full. */
const matrix = (n: number) =>
  Float64Array.from({ length: n * n }, (_, k) => 1 / (Math.floor(k / n) + (k % n) + 1) + (k % (n + 1) === 0 ? 1 : 0));

describe('Cholesky factor', () => {
  it.each([1, 2, 7, 30])('of order %i solves and inverts', (n) => {
    const a = matrix(n);
    const x = Float64Array.from({ length: n }, (_, i) => Math.cos(i));
    const b = x.map((_, i) => x.reduce((sum, v, j) => sum + a[i * n + j]! * v, 0));
    const l = a.slice();
    expect(choleskyFactor(l, n)).toBe(true);
    choleskySolve(l, n, b);
    for (let i = 0; i < n; i++) expect(Math.abs(b[i]! - x[i]!)).toBeLessThan(1e-13);
    choleskyInverse(l, n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        let sum = 0;
        for (let k = 0; k < n; k++) sum += a[i * n + k]! * l[k * n + j]!;
        expect(Math.abs(sum - (i === j ? 1 : 0))).toBeLessThan(1e-13);
      }
    }
  });

  it('refuses an indefinite matrix', () => {
    expect(choleskyFactor(Float64Array.of(1, 2, 2, 1), 2)).toBe(false);
  });
});
