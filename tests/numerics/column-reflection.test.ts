import { expect, it } from 'vitest';
import { createScalarRoom, createSimdRoom } from '../../src/numerics/column-reflection.ts';
import { randomSource } from '../../src/numerics/random.ts';

it('reflects columns as the definition says, with the same bits in WebAssembly and JavaScript', () => {
  const random = randomSource(4);
  for (const [rows, columns, k] of [
    [7, 3, 0],
    [50, 9, 1],
    [131, 40, 6],
  ] as const) {
    const rooms = [createScalarRoom(rows, columns), createSimdRoom()!(rows, columns)] as const;
    const { stride } = rooms[0];
    for (let j = 0; j < columns; j++) {
      for (let i = 0; i < rows; i++) for (const room of rooms) room.values[j * stride + i] = 0;
      for (let i = 0; i < rows; i++) {
        const value = random.normal();
        for (const room of rooms) room.values[j * stride + i] = value;
      }
    }
    const before = rooms[0].values.slice();
    for (const room of rooms) room.reflect(k * stride + k, (k + 1) * stride + k, columns - k - 1, rows - k, -0.37);
    expect([...rooms[1].values]).toEqual([...rooms[0].values]);
    for (let j = 0; j < columns; j++) {
      let s = 0;
      for (let i = k; i < rows; i++) s += before[k * stride + i]! * before[j * stride + i]!;
      for (let i = 0; i < stride; i++) {
        const at = j * stride + i;
        const moved = j > k && i >= k ? before[at]! - 0.37 * s * before[k * stride + i]! : before[at]!;
        expect(rooms[0].values[at]).toBeCloseTo(moved, 10);
      }
    }
  }
});
