import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { gaussLegendre } from '../../../src/numerics/gauss-legendre.ts';
import { coaxialMutualInductance } from '../../../src/physics/coil/coaxial-circles.ts';
import { pieceLength, piecePoint, pieceTangent } from '../../../src/physics/coil/piece-geometry.ts';
import { pairIntegral, placePiece, selfIntegral } from '../../../src/physics/coil/piece-pair.ts';
import type { Piece } from '../../../src/physics/coil/types.ts';
import { expectRegion, referenceRegions } from './reference.ts';

/** Composite Gauss rule on both pieces. */
function brute(a: Piece, b: Piece, height: number, soft: number, parts: number): number {
  const { nodes, weights } = gaussLegendre(10);
  let sum = 0;
  const visit = (piece: Piece, use: (at: number, weight: number) => void) => {
    for (let part = 0; part < parts; part++) {
      nodes.forEach((node, i) => {
        use((part + (node + 1) / 2) / parts, (weights[i] / 2 / parts) * pieceLength(piece));
      });
    }
  };
  visit(a, (s, ws) => {
    const [x, y, z] = piecePoint(a, s);
    const t = pieceTangent(a, s);
    visit(b, (r, wr) => {
      const [u, v, w] = piecePoint(b, r);
      const q = pieceTangent(b, r);
      sum += (ws * wr * (t[0] * q[0] + t[1] * q[1] + t[2] * q[2])) / Math.hypot(x - u, y - v, z - w - height, soft);
    });
  });
  return sum;
}

describe('pairs of pieces', () => {
  // Rosa and Grover; Paul (2009) eq. 5.21b.
  test.each(referenceRegions('rectangles', (id) => id.startsWith('par-seg')))('$name', (region) => {
    expectRegion(region, ({ inputs: { length_m, distance_m } }) => {
      const a: Piece = { kind: 'line', x0: 0, y0: 0, x1: length_m, y1: 0 };
      return (
        1e-7 *
        1e9 *
        pairIntegral(placePiece(a, 1e-10), placePiece({ ...a, y0: distance_m, y1: distance_m }, 1e-10), 0, 0, 1e-10)
      );
    });
  });

  test('lines and arcs in any place against brute quadrature, within the aim (seed 31)', () => {
    const c = fc.double({ min: -1, max: 1, noNaN: true });
    const line = fc.record({ x0: c, y0: c, x1: c, y1: c }).map((p): Piece => ({ kind: 'line', ...p }));
    const arc = fc
      .record({
        cx: c,
        cy: c,
        radius: fc.double({ min: 0.2, max: 1, noNaN: true }),
        start: c,
        sweep: fc.double({ min: 0.2, max: 3, noNaN: true }),
      })
      .map((p): Piece => ({ kind: 'arc', ...p }));
    fc.assert(
      fc.property(
        fc.oneof(line, arc),
        fc.oneof(line, arc),
        fc.double({ min: 0.1, max: 1, noNaN: true }),
        (a, b, height) => {
          const exact = brute(a, b, height, 0, 24);
          const size = (pieceLength(a) * pieceLength(b)) / height;
          for (const aim of [1e-4, 1e-8]) {
            expect(Math.abs(pairIntegral(placePiece(a, aim), placePiece(b, aim), height, 0, aim) - exact)).toBeLessThan(
              aim * size + 1e-12,
            );
          }
        },
      ),
      { seed: 31, numRuns: 60 },
    );
  });

  test('pieces that share an end, softened', () => {
    const a: Piece = { kind: 'line', x0: -1, y0: 0, x1: 0, y1: 0 };
    const bent: Piece = { kind: 'arc', cx: 0, cy: 0.5, radius: 0.5, start: -Math.PI / 2, sweep: Math.PI / 2 };
    const oblique: Piece = { kind: 'line', x0: 0, y0: 0, x1: 0.6, y1: 0.5 };
    for (const b of [bent, oblique]) {
      const got = pairIntegral(placePiece(a, 1e-9), placePiece(b, 1e-9), 0, 0.05, 1e-9);
      expect(got).toBeCloseTo(brute(a, b, 0, 0.05, 60), 7);
    }
  });

  test('long lines side by side, nearly parallel as the sides of a spiral are: closed form against the integral by parts', () => {
    const a = { kind: 'line', x0: -0.15, y0: 0, x1: 0.17, y1: 0 } as const;
    const { nodes, weights } = gaussLegendre(10);
    const along = (b: typeof a, height: number, soft: number): number => {
      const la = pieceLength(a);
      const lb = pieceLength(b);
      const [ux, uy] = [(a.x1 - a.x0) / la, (a.y1 - a.y0) / la];
      const dot = (ux * (b.x1 - b.x0) + uy * (b.y1 - b.y0)) / lb;
      let sum = 0;
      for (let part = 0; part < 3000; part++) {
        nodes.forEach((node, i) => {
          const s = (part + (node + 1) / 2) / 3000;
          const x = b.x0 + (b.x1 - b.x0) * s - a.x0;
          const y = b.y0 + (b.y1 - b.y0) * s - a.y0;
          const t = x * ux + y * uy;
          const d = Math.hypot(x * uy - y * ux, height, soft);
          sum += (weights[i]! / 6000) * lb * dot * (Math.asinh(t / d) + Math.asinh((la - t) / d));
        });
      }
      return sum;
    };
    for (const [height, soft, y, slope] of [
      [0, 0, 0.004, 1e-3],
      [0.0018, 0, 0.004, 1e-2],
      [0.0018, 0, 0, 1e-4],
      [0, 0.0007, 0.003, 1e-5],
      [0.001, 0.0005, 0.0005, 3e-2],
    ] as const) {
      const b = { kind: 'line', x0: 0.16, y0: y, x1: -0.14, y1: y + 0.3 * slope } as unknown as typeof a;
      const got = pairIntegral(placePiece(a, 1e-4), placePiece(b, 1e-4), height, soft, 1e-4);
      expect(got / along(b, height, soft)).toBeCloseTo(1, 8);
    }
  });

  test("a circle cut in arcs gives Maxwell's coaxial value", () => {
    const quarters = (radius: number) =>
      [0, 1, 2, 3].map((k) =>
        placePiece({ kind: 'arc', cx: 0, cy: 0, radius, start: (k * Math.PI) / 2, sweep: Math.PI / 2 }, 1e-9),
      );
    let sum = 0;
    for (const p of quarters(20e-3)) for (const q of quarters(19e-3)) sum += pairIntegral(p, q, 0.5e-3, 0, 1e-9);
    expect((1e-7 * sum) / coaxialMutualInductance(20e-3, 19e-3, 0.5e-3)).toBeCloseTo(1, 9);
  });

  test('pieces on themselves: a softened circle of two halves is a coaxial pair that far apart', () => {
    for (const soft of [1e-5, 1e-3, 0.1]) {
      const half = (start: number): Piece => ({ kind: 'arc', cx: 3, cy: 0, radius: 1, start, sweep: Math.PI });
      const [one, other] = [half(0.4), half(0.4 + Math.PI)];
      const between = pairIntegral(placePiece(one, 1e-9), placePiece(other, 1e-9), 0, soft, 1e-9);
      const got = 1e-7 * (selfIntegral(one, soft) + selfIntegral(other, soft) + 2 * between);
      expect(got / coaxialMutualInductance(1, 1, soft)).toBeCloseTo(1, 8);
    }
    const line: Piece = { kind: 'line', x0: 0, y0: 0, x1: 1, y1: 0 };
    expect(selfIntegral(line, 0.1)).toBeCloseTo(brute(line, line, 0, 0.1, 40), 8);
  });
});
