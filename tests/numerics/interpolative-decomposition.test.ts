import { expect, it } from 'vitest';
import { interpolativeDecomposition } from '../../src/numerics/interpolative-decomposition.ts';

/** 1 / |x - y| between separated points: numerically of low rank. */
const rows = 40;
const columns = 30;
const kernel = () =>
  Float64Array.from({ length: rows * columns }, (_, k) => 1 / (1 + Math.floor(k / rows) / columns + (k % rows) / rows));

it('meets every column to its tolerance with fewer columns', () => {
  const a = kernel();
  const norm = Math.max(
    ...Array.from({ length: columns }, (_, j) => Math.hypot(...a.subarray(j * rows, (j + 1) * rows))),
  );
  for (const tolerance of [1e-3, 1e-6]) {
    const { rank, chosen, coefficients } = interpolativeDecomposition(kernel(), rows, columns, tolerance);
    expect(rank).toBeLessThan(10);
    for (let j = 0; j < columns; j++) {
      let square = 0;
      for (let r = 0; r < rows; r++) {
        let value = -a[j * rows + r]!;
        for (let k = 0; k < rank; k++) value += coefficients[j * rank + k]! * a[chosen[k]! * rows + r]!;
        square += value * value;
      }
      expect(Math.sqrt(square)).toBeLessThan(2 * tolerance * norm);
    }
  }
});

it('never chooses a column that is only to be fitted', () => {
  const { chosen, coefficients, rank } = interpolativeDecomposition(kernel(), rows, columns, 1e-8, 20);
  expect(Math.max(...chosen)).toBeLessThan(20);
  expect(coefficients.length).toBe(columns * rank);
});

it('does so on a sketch where there are far more rows than columns', () => {
  // 1 / |x - y| between a line of 24 points and 900 sources round it.
  const tall = 900;
  const wide = 24;
  const a = Float64Array.from({ length: tall * wide }, (_, k) => {
    const x = Math.floor(k / tall) / wide;
    const angle = (2 * Math.PI * (k % tall)) / tall;
    return 1 / Math.hypot(2 * Math.cos(angle) - x, 2 * Math.sin(angle));
  });
  const norm = Math.max(...Array.from({ length: wide }, (_, j) => Math.hypot(...a.subarray(j * tall, (j + 1) * tall))));
  for (const tolerance of [1e-3, 1e-6]) {
    const { rank, chosen, coefficients } = interpolativeDecomposition(a.slice(), tall, wide, tolerance);
    expect(rank).toBeLessThan(16);
    for (let j = 0; j < wide; j++) {
      let square = 0;
      for (let r = 0; r < tall; r++) {
        let value = -a[j * tall + r]!;
        for (let k = 0; k < rank; k++) value += coefficients[j * rank + k]! * a[chosen[k]! * tall + r]!;
        square += value * value;
      }
      expect(Math.sqrt(square)).toBeLessThan(3 * tolerance * norm);
    }
  }
});
