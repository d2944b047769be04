import { expect, test } from 'vitest';
import { bracketedRoot } from '../../src/numerics/bracketed-root.ts';

test.each([
  ['cosine', Math.cos, 1, 2, Math.PI / 2],
  ['cube with a flat root', (x: number) => (x - 1) ** 3, 0, 3.3, 1],
  ['steep exponential', (x: number) => Math.exp(50 * x) - 2, -1, 1, Math.LN2 / 50],
  ['square-root wall', (x: number) => Math.sqrt(Math.abs(x)) * Math.sign(x) - 1e-3, -1, 1, 1e-6],
] as const)('%s', (_name, f, low, high, root) => {
  const found = bracketedRoot(f, low, high, f(low), f(high), { xTolerance: 1e-14 });
  expect(found.converged).toBe(true);
  expect(Math.abs(found.value - root)).toBeLessThan(_name.startsWith('cube') ? 1e-5 : 1e-12);
  expect(found.evaluations).toBeLessThan(75);
});

test('an end that is a root is returned without work', () => {
  expect(bracketedRoot((x) => x, 0, 1, 0, 1)).toEqual({ value: 0, errorEstimate: 0, evaluations: 0, converged: true });
  expect(bracketedRoot((x) => x, -1, 0, -1, 0).value).toBe(0);
});

test('no sign change: NaN and not converged; NaN inside does not hang', () => {
  const none = bracketedRoot((x) => x * x + 1, -1, 1, 2, 2);
  expect(none.converged).toBe(false);
  expect(none.value).toBeNaN();
  const broken = bracketedRoot(() => Number.NaN, 0, 1, -1, 1, { maxEvaluations: 20 });
  expect(broken.evaluations).toBeLessThanOrEqual(20);
});

test('stops at the tolerance on f', () => {
  const found = bracketedRoot((x) => x - 0.3, 0, 1, -0.3, 0.7, { fTolerance: 0.05 });
  expect(Math.abs(found.value - 0.3)).toBeLessThanOrEqual(0.05);
});
