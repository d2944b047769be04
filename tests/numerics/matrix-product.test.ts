import { describe, expect, it } from 'vitest';
import { createSimdProduct, matrixProduct, scalarProduct } from '../../src/numerics/matrix-product.ts';
import { randomSource } from '../../src/numerics/random.ts';

const simd = createSimdProduct()!;

describe('matrix product', () => {
  it.each([
    [1, 1, 1],
    [2, 3, 8],
    [3, 5, 7],
    [17, 40, 33],
    // Grows the memory.
    [300, 200, 513],
  ])(
    '[%i, %i] by %i columns: the same bits in WebAssembly and JavaScript, equal to the definition',
    (rows, inner, columns) => {
      const random = randomSource(rows);
      const a = random.fillNormal(new Float64Array(rows * inner));
      const b = random.fillNormal(new Float64Array(inner * columns));
      const start = random.fillNormal(new Float64Array(rows * columns));
      const one = simd(a, b, rows, inner, columns, Float64Array.from(start));
      const other = scalarProduct(a, b, rows, inner, columns, Float64Array.from(start));
      expect(one).toEqual(other);
      for (const [r, c] of [
        [0, 0],
        [rows - 1, columns - 1],
        [rows >> 1, columns >> 1],
      ] as const) {
        let exact = start[r * columns + c]!;
        for (let k = 0; k < inner; k++) exact += a[r * inner + k]! * b[k * columns + c]!;
        expect(Math.abs(one[r * columns + c]! - exact)).toBeLessThan(1e-13 * inner);
      }
    },
  );

  it('adds nothing for an empty product', () => {
    expect([...simd(new Float64Array(0), new Float64Array(0), 1, 0, 2, Float64Array.of(3, 4))]).toEqual([3, 4]);
  });

  it('is shared', () => {
    expect(matrixProduct()).toBe(matrixProduct());
  });
});
