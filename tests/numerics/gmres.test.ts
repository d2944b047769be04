import { expect, it } from 'vitest';
import { gmres } from '../../src/numerics/gmres.ts';

const n = 12;
const entry = (i: number, j: number) => (i === j ? 2 : Math.sin(3 * i - 2 * j) / 12);
const apply = (v: Float64Array, out: Float64Array) => {
  for (let i = 0; i < n; i++) {
    out[i] = 0;
    for (let j = 0; j < n; j++) out[i] = out[i]! + entry(i, j) * v[j]!;
  }
};

it('solves an unsymmetric system and tells its true residual', () => {
  const wanted = Float64Array.from({ length: n }, (_, i) => i - 5);
  const b = new Float64Array(n);
  apply(wanted, b);
  const x = new Float64Array(n);
  const outcome = gmres(apply, b, x, 1e-12, n);
  expect(outcome.converged).toBe(true);
  for (let i = 0; i < n; i++) expect(Math.abs(x[i]! - wanted[i]!)).toBeLessThan(1e-10);
  const few = gmres(apply, b, x, 1e-12, 2);
  expect(few.converged).toBe(false);
  const ax = new Float64Array(n);
  apply(x, ax);
  const residual = Math.hypot(...ax.map((v, i) => v - b[i]!)) / Math.hypot(...b);
  expect(Math.abs(residual / few.residual - 1)).toBeLessThan(1e-10);
});

it('needs no step for a right side of zero', () => {
  const x = new Float64Array(n).fill(1);
  expect(gmres(apply, new Float64Array(n), x, 1e-9, 5)).toEqual({ evaluations: 0, residual: 0, converged: true });
  expect(x.every((v) => v === 0)).toBe(true);
});
