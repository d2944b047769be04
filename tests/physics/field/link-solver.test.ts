import { expect, test } from 'vitest';
import { inverseMotion } from '../../../src/physics/field/link-solver.ts';

test('a motion and its inverse leave every point where it was', () => {
  const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
  const motion = Float64Array.of(c, -s, 0, s, c, 0, 0, 0, 1, 3, -2, 5);
  const back = inverseMotion(motion);
  const move = (m: Float64Array, p: readonly number[]) =>
    [0, 1, 2].map((i) => m[3 * i] * p[0] + m[3 * i + 1] * p[1] + m[3 * i + 2] * p[2] + m[9 + i]);
  expect(move(back, move(motion, [1, 2, 3]))).toEqual([1, 2, 3].map((v) => expect.closeTo(v, 12)));
});
