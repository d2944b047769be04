import { expect, it } from 'vitest';
import { randomSource } from '../../src/numerics/random.ts';
import { createScalarMatrix, createSimdMatrix } from '../../src/numerics/single-matrix.ts';

it('multiplies to six digits of what is added, in either direction, for any size', () => {
  const random = randomSource(8);
  const simd = createSimdMatrix()!;
  for (const [rows, columns] of [
    [3, 5],
    [16, 16],
    [130, 61],
    [40, 700],
    [5, 3],
    [0, 4],
  ] as const) {
    const a = random.fillNormal(new Float64Array(rows * columns));
    const across = random.fillNormal(new Float64Array(columns));
    const down = random.fillNormal(new Float64Array(rows));
    const [right, left] = [rows, columns].map((n) => new Float64Array(n)) as [Float64Array, Float64Array];
    const matrix = simd(a, rows, columns);
    matrix.multiply(across, right);
    matrix.multiplyTransposed(down, left);
    const exact = createScalarMatrix(a, rows, columns);
    const [wantedRight, wantedLeft] = [rows, columns].map((n) => new Float64Array(n)) as [Float64Array, Float64Array];
    exact.multiply(across, wantedRight);
    exact.multiplyTransposed(down, wantedLeft);
    for (let i = 0; i < rows; i++) expect(Math.abs(right[i]! - wantedRight[i]!)).toBeLessThan(1e-6 * columns);
    for (let j = 0; j < columns; j++) {
      expect(Math.abs(left[j]! - wantedLeft[j]!)).toBeLessThan(1e-6 * Math.max(1, rows));
    }
  }
});
