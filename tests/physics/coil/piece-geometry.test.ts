import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  isFullCircle,
  pieceDistance,
  pieceLength,
  piecePoint,
  pieceReach,
  pieceTangent,
  pieceThrough,
} from '../../../src/physics/coil/piece-geometry.ts';
import type { Piece } from '../../../src/physics/coil/types.ts';

const coordinate = fc.double({ min: -1, max: 1, noNaN: true });
const line = fc
  .record({ x0: coordinate, y0: coordinate, x1: coordinate, y1: coordinate })
  .map((p): Piece => ({ kind: 'line', ...p }));
const arc = fc
  .record({
    cx: coordinate,
    cy: coordinate,
    radius: fc.double({ min: 0.05, max: 1, noNaN: true }),
    start: fc.double({ min: -3, max: 3, noNaN: true }),
    sweep: fc.double({ min: -6, max: 6, noNaN: true }),
  })
  .filter(({ sweep }) => Math.abs(sweep) > 0.05)
  .map((p): Piece => ({ kind: 'arc', ...p }));

describe('pieces', () => {
  test('length, points, tangents', () => {
    const quarter: Piece = { kind: 'arc', cx: 1, cy: 0, radius: 2, start: 0, sweep: Math.PI / 2, dz: 0.5 };
    expect(pieceLength(quarter)).toBeCloseTo(Math.PI, 14);
    expect(piecePoint(quarter, 1)).toEqual([expect.closeTo(1, 14), expect.closeTo(2, 14), 0.5]);
    expect(pieceTangent(quarter, 0)).toEqual([expect.closeTo(0, 14), 1, 0]);
    const step: Piece = { kind: 'line', x0: 0, y0: 0, x1: 3, y1: 0, dz0: 0, dz1: 4 };
    expect(pieceLength(step)).toBe(5);
    expect(piecePoint(step, 0.5)).toEqual([1.5, 0, 2]);
    expect(pieceTangent(step, 0.5)).toEqual([0.6, 0, 0.8]);
    expect(isFullCircle({ ...quarter, sweep: -2 * Math.PI } as Piece)).toBe(true);
    expect(isFullCircle(quarter)).toBe(false);
  });

  test('an arc reaches as far as its quadrant points', () => {
    expect(pieceReach({ kind: 'arc', cx: 1, cy: 0, radius: 2, start: -0.1, sweep: 0.2 })[0]).toBeCloseTo(3, 14);
    expect(pieceReach({ kind: 'arc', cx: 0, cy: 0, radius: 2, start: 0.3, sweep: 0.4 })[0]).toBeCloseTo(
      2 * Math.cos(0.3),
      14,
    );
  });

  test('the piece through three points passes them in order (seed 21)', () => {
    fc.assert(
      fc.property(arc, (piece) => {
        const through = pieceThrough(piecePoint(piece, 0), piecePoint(piece, 0.5), piecePoint(piece, 1));
        if (through.kind !== 'arc' || piece.kind !== 'arc') return;
        expect(through.radius).toBeCloseTo(piece.radius, 5);
        expect(through.sweep).toBeCloseTo(piece.sweep, 5);
      }),
      { seed: 21, numRuns: 100 },
    );
    expect(pieceThrough([0, 0, 0], [1, 0, 0], [2, 0, 0]).kind).toBe('line');
  });

  test('distance: never above, and nearly, that of many sampled points (seed 23)', () => {
    const sampled = (a: Piece, b: Piece, n: number) => {
      let least = Number.POSITIVE_INFINITY;
      for (let i = 0; i <= n; i++) {
        const [x, y] = piecePoint(a, i / n);
        for (let j = 0; j <= n; j++) {
          const [u, v] = piecePoint(b, j / n);
          least = Math.min(least, Math.hypot(x - u, y - v));
        }
      }
      return least;
    };
    fc.assert(
      fc.property(fc.oneof(line, arc), fc.oneof(line, arc), (a, b) => {
        const n = 150;
        const exact = pieceDistance(a, b);
        const near = sampled(a, b, n);
        expect(exact).toBeLessThanOrEqual(near + 1e-12);
        expect(near - exact).toBeLessThan((pieceLength(a) + pieceLength(b)) / n);
        expect(pieceDistance(b, a)).toBeCloseTo(exact, 12);
      }),
      { seed: 23, numRuns: 150 },
    );
  });
});
