import { describe, expect, it } from 'vitest';
import { openingArea, outerArea, outerBox } from '../../../src/analysis/pair/outline-size.ts';
import type { CoilDocument, OutlineDocument } from '../../../src/design/types.ts';
import { airPair } from './air-pair.ts';

const coil = (outline: OutlineDocument): CoilDocument => ({ ...airPair().receiver.coil, outline });

/** Area by counting points of a fine lattice: knows nothing of the formulas. */
function counted(inside: (x: number, y: number) => boolean, width: number, height: number): number {
  const n = 1200;
  let hits = 0;
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) if (inside(((i + 0.5) / n - 0.5) * width, ((j + 0.5) / n - 0.5) * height)) hits++;
  return (hits / (n * n)) * width * height;
}

const roundCornered = (w: number, h: number, r: number) => (x: number, y: number) => {
  const u = Math.max(0, Math.abs(x) - (w / 2 - r));
  const v = Math.max(0, Math.abs(y) - (h / 2 - r));
  return Math.abs(x) <= w / 2 && Math.abs(y) <= h / 2 && Math.hypot(u, v) <= r + 1e-12;
};

describe('outline size', () => {
  it('agrees with counting lattice points', () => {
    const rounded: OutlineDocument = {
      shape: 'roundedRectangle',
      outerWidthMm: 46,
      outerHeightMm: 33,
      innerWidthMm: 28,
      innerHeightMm: 15,
      outerCornerRadiusMm: 10,
      innerCornerRadiusMm: 2,
    };
    expect(outerArea(rounded) / counted(roundCornered(46, 33, 10), 46, 33)).toBeCloseTo(1, 3);
    expect(openingArea(coil(rounded)) / counted(roundCornered(28, 15, 2), 28, 15)).toBeCloseTo(1, 3);
    const stadium: OutlineDocument = {
      shape: 'stadium',
      outerWidthMm: 40,
      outerHeightMm: 26,
      innerWidthMm: 22,
      innerHeightMm: 8,
    };
    expect(outerArea(stadium) / counted(roundCornered(40, 26, 13), 40, 26)).toBeCloseTo(1, 3);
    expect(openingArea(coil(stadium)) / counted(roundCornered(22, 8, 4), 22, 8)).toBeCloseTo(1, 3);
  });

  it('takes a free path by its points', () => {
    const path: OutlineDocument = {
      shape: 'path',
      pointsMm: [
        [-20, -10],
        [20, -10],
        [20, 10],
        [-20, 10],
      ],
      pitchMm: 1,
    };
    expect(outerArea(path)).toBeCloseTo(800, 9);
    expect(outerBox(coil(path))).toEqual({ widthMm: 40.75, heightMm: 20.75 });
    // Each of the seven turns a layer lies 1 mm further in.
    expect(openingArea(coil(path))).toBeLessThan(800);
  });
});
