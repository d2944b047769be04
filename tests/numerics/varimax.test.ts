import { expect, test } from 'vitest';
import { varimax } from '../../src/numerics/varimax.ts';

test('finds the axes again after a rotation', () => {
  const angle = 0.6;
  // Three directions of a five-dimensional space, two of them mixed.
  const columns = new Float64Array([
    Math.cos(angle),
    -Math.sin(angle),
    0,
    Math.sin(angle),
    Math.cos(angle),
    0,
    0,
    0,
    1,
    0,
    0,
    0,
    0,
    0,
    0,
  ]);
  varimax(columns, 5, 3);
  for (let k = 0; k < 3; k++) {
    const column = [0, 1, 2, 3, 4].map((i) => Math.abs(columns[3 * i + k]));
    expect(Math.max(...column)).toBeCloseTo(1, 6);
  }
});

test('columns stay orthonormal', () => {
  const columns = Float64Array.from([0.6, 0.8, 0.48, -0.36, 0.64, -0.48]);
  varimax(columns, 3, 2);
  const dot = (a: number, b: number) => [0, 1, 2].reduce((s, i) => s + columns[2 * i + a] * columns[2 * i + b], 0);
  expect(dot(0, 0)).toBeCloseTo(1, 12);
  expect(dot(1, 1)).toBeCloseTo(1, 12);
  expect(dot(0, 1)).toBeCloseTo(0, 12);
});
