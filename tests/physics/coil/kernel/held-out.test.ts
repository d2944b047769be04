import { expect, it } from 'vitest';
import { heldOutSource } from '../../../../src/physics/coil/kernel/held-out.ts';

it('repeats for the same inputs and differs for any other', () => {
  const first = (...inputs: number[]) => heldOutSource(...inputs).uniform();
  expect(first(1, 2, 3)).toBe(first(1, 2, 3));
  const others = [
    first(1, 2, 3),
    first(3, 2, 1),
    first(1, 2),
    first(1, 2, 3 + 1e-15 * 4),
    first(-1, 2, 3),
    first(0, 0, 0),
  ];
  expect(new Set(others).size).toBe(others.length);
});
