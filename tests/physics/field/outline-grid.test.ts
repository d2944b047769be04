import { describe, expect, it } from 'vitest';
import { outlineArea, outlineBox, outlineGrid } from '../../../src/physics/field/outline-grid.ts';

describe.each(['rim', 'even'] as const)('%s grading', (grading) => {
  it('covers every outline exactly with convex cells', () => {
    for (const [halfWidth, halfHeight] of [
      [24, 18],
      [25, 25],
      [30, 8],
      [18, 24],
    ] as const) {
      for (const cell of [4, 5, 7.2, 9]) {
        for (const level of [2, 3]) {
          for (const radius of [0, 0.2, 1, 2, 2.4, 4, 7.9, Math.min(halfWidth, halfHeight)]) {
            if (radius > Math.min(halfWidth, halfHeight)) continue;
            const { cellsX, cellsY, x, y } = outlineGrid({ halfWidth, halfHeight, radius }, cell, level, grading);
            let area = 0;
            let sharpest = Infinity;
            for (let i = 0; i < cellsX; i++) {
              for (let j = 0; j < cellsY; j++) {
                const a = i * (cellsY + 1) + j;
                const ring = [a, a + cellsY + 1, a + cellsY + 2, a + 1];
                for (let k = 0; k < 4; k++) {
                  const [p, q, r] = [ring[k]!, ring[(k + 1) % 4]!, ring[(k + 2) % 4]!];
                  area += (x[p]! * y[q]! - x[q]! * y[p]!) / 2;
                  sharpest = Math.min(sharpest, (x[q]! - x[p]!) * (y[r]! - y[q]!) - (y[q]! - y[p]!) * (x[r]! - x[q]!));
                }
              }
            }
            const exact = halfWidth * halfHeight - (1 - Math.PI / 4) * radius * radius;
            expect(Math.abs(area / exact - 1)).toBeLessThan(1e-12);
            expect(sharpest).toBeGreaterThan(-1e-9);
          }
        }
      }
    }
  });
});

it('knows boxes and areas of the shapes', () => {
  expect(outlineBox({ shape: 'stadium', width: 4, height: 2 })).toEqual({ halfWidth: 2, halfHeight: 1, radius: 1 });
  expect(outlineArea({ shape: 'circle', diameter: 2 })).toBeCloseTo(Math.PI, 14);
  expect(outlineArea({ shape: 'stadium', width: 4, height: 2 })).toBeCloseTo(4 + Math.PI, 14);
});
