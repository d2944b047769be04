import fc from 'fast-check';
import { expect, test } from 'vitest';
import { curvePieces, linePieces } from '../../src/charts/line-pieces.ts';
import { type Box, overlaps } from '../../src/charts/place-labels.ts';

const same = { x: (value: number) => value, y: (value: number) => value };

test('no place on a line lies farther from its pieces than their size, however far its points are apart (seed 29)', () => {
  const point = fc.integer({ min: 0, max: 400 });
  const line = fc.array(point, { minLength: 4, maxLength: 24 }).map((list) => list.slice(0, list.length & ~1));
  fc.assert(
    fc.property(line, fc.double({ min: 0, max: 1, noNaN: true }), fc.nat(), (points, t, which) => {
      const pieces = linePieces(points, same);
      const k = which % (points.length / 2 - 1);
      const [x0, y0, x1, y1] = points.slice(2 * k, 2 * k + 4) as [number, number, number, number];
      const at: Box = { x: x0 + t * (x1 - x0) - 1, y: y0 + t * (y1 - y0) - 1, width: 2, height: 2 };
      expect(pieces.some((piece) => overlaps(at, piece, 6))).toBe(true);
    }),
    { seed: 29, numRuns: 300 },
  );
});

test('a curve breaks where a value is not finite', () => {
  const pieces = curvePieces([0, 50, 100, 150], [10, Number.NaN, 10, 10], same);
  expect(pieces.some((piece) => piece.x > 20 && piece.x < 90)).toBe(false);
  expect(pieces.some((piece) => piece.x > 110 && piece.x < 140)).toBe(true);
});

test('a line without points has no pieces, one without length has one', () => {
  expect(linePieces([], same)).toEqual([]);
  expect(linePieces([5, 7], same)).toHaveLength(1);
});
