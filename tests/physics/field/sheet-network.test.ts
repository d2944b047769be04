import { describe, expect, test } from 'vitest';
import { outlineBox } from '../../../src/physics/field/outline-grid.ts';
import { sheetNetwork, skinDepth } from '../../../src/physics/field/sheet-network.ts';

test('skin depth of copper as handbooks have it', () => {
  // Annealed copper, 58 MS/m: 0.209 mm at 100 kHz, 9.3 mm at 50 Hz. Common handbook values (from memory).
  expect(1e3 * skinDepth(58e6, 100e3)).toBeCloseTo(0.209, 3);
  expect(1e3 * skinDepth(58e6, 50)).toBeCloseTo(9.35, 1);
});

describe('the loops of a sheet', () => {
  const outline = outlineBox({ shape: 'roundedRectangle', width: 40e-3, height: 24e-3, cornerRadius: 0 });
  const { members, loops, flux, resistance } = sheetNetwork(outline, 0.2e-3, 1e-3, 4e-3, 1);

  test('lie inside the sheet, a quarter of a cell from its edge, in four mirrored quarters', () => {
    expect(loops.count).toBe(4 * members);
    const area = loops.area.reduce((sum, part) => sum + part, 0);
    expect(area).toBeLessThan(40e-3 * 24e-3);
    expect(area).toBeGreaterThan(0.85 * 40e-3 * 24e-3);
    for (let loop = 0; loop < loops.count; loop++) {
      expect(Math.abs(loops.centre[3 * loop])).toBeLessThan(20e-3);
      // Counter-clockwise seen from +z.
      expect(loops.frame[9 * loop + 8]).toBeCloseTo(1, 12);
    }
  });

  test('link each other alike both ways and never give energy: every block symmetric, its diagonal positive', () => {
    for (const block of [...flux, ...resistance]) {
      for (let i = 0; i < members; i++) {
        expect(block[i * members + i]).toBeGreaterThan(0);
        for (let j = 0; j < i; j++) {
          const scale = Math.sqrt(block[i * members + i] * block[j * members + j]);
          expect(Math.abs(block[i * members + j] - block[j * members + i]) / scale).toBeLessThan(1e-6);
        }
      }
    }
  });
});
