import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../../src/numerics/random.ts';
import { createScalarStencil, createSimdStencil, STENCIL } from '../../../../src/physics/coil/kernel/stencil-engine.ts';

describe('stencil sums', () => {
  it.each([2, 6, 14])('depth %i: the same bits in WebAssembly and JavaScript, equal to the definition', (depth) => {
    const random = randomSource(depth);
    const columns = 9;
    const rows = 8;
    const table = { values: random.fillNormal(new Float64Array(rows * columns * depth)), columns, depth };
    const count = 200;
    const records = random.fillNormal(new Float64Array(count * (2 * STENCIL + depth)));
    const first = Int32Array.from({ length: count }, () => {
      const row = Math.floor(random.uniform() * (rows - STENCIL + 1));
      const column = Math.floor(random.uniform() * (columns - STENCIL + 1));
      return (row * columns + column) * depth;
    });
    const simd = createSimdStencil(table)!;
    const scalar = createScalarStencil(table);
    expect(simd.batch).toBeGreaterThanOrEqual(count);
    const one = new Float64Array(count + 3);
    const other = new Float64Array(count + 3);
    simd.run(records, first, count, one, 3);
    scalar.run(records, first, count, other, 3);
    expect(one).toEqual(other);
    for (let p = 0; p < count; p += 17) {
      const record = records.subarray(p * (2 * STENCIL + depth));
      let exact = 0;
      for (let r = 0; r < STENCIL; r++) {
        for (let c = 0; c < STENCIL; c++) {
          for (let k = 0; k < depth; k++) {
            const value = table.values[first[p]! + (r * columns + c) * depth + k]!;
            exact += record[r]! * record[STENCIL + c]! * record[2 * STENCIL + k]! * value;
          }
        }
      }
      expect(Math.abs(one[p + 3]! - exact)).toBeLessThan(1e-11);
    }
  });
});
