import { expect, test } from 'vitest';
import type { PlateOutline } from '../../../src/physics/coil/types.ts';
import { IMAGES, plateMesh, rimNodes } from '../../../src/physics/field/plate-mesh.ts';

const SHAPES: readonly (readonly [string, PlateOutline, number, number])[] = [
  ['rectangle', { shape: 'roundedRectangle', width: 50e-3, height: 30e-3, cornerRadius: 0 }, 1500e-6, 160e-3],
  ['circle', { shape: 'circle', diameter: 40e-3 }, Math.PI * 400e-6, Math.PI * 40e-3],
];

test.each(SHAPES)('%s: the panels close the plate, area by area', (_, outline, area, perimeter) => {
  const thickness = 2e-3;
  const mesh = plateMesh(outline, thickness, 4e-3, 2, 3);
  const sum = mesh.panels.area.reduce((total, part) => total + part, 0);
  // A circle's rim is a polygon of the same area, so that its edge is a little longer than the circle's.
  const whole = 2 * area + perimeter * thickness;
  expect(sum / whole).toBeGreaterThan(1 - 1e-12);
  expect(sum / whole).toBeLessThan(1.001);
  expect(mesh.panels.count).toBe(IMAGES * mesh.orbits);
  expect(mesh.layerBorders[0]).toBe(0);
  expect(mesh.layerBorders.at(-1)).toBeCloseTo(thickness / 2, 15);
});

test.each(SHAPES)('%s: image g of an orbit is its first panel under the mirrors of g', (_, outline) => {
  const { panels, orbits } = plateMesh(outline, 2e-3, 6e-3, 1, 2);
  for (let orbit = 0; orbit < orbits; orbit++) {
    for (let g = 0; g < IMAGES; g++) {
      for (const [k, bit] of [1, 2, 4].entries()) {
        const first = panels.centre[3 * orbit + k];
        expect(panels.centre[3 * (g * orbits + orbit) + k]).toBeCloseTo(g & bit ? -first : first, 15);
      }
    }
  }
});

test('rim edges follow each other along the two rims of the quarter', () => {
  const { grid } = plateMesh(SHAPES[0][1], 2e-3, 6e-3, 1, 1);
  for (let e = 0; e + 1 < grid.cellsX; e++) expect(rimNodes(grid, e)[1]).toBe(rimNodes(grid, e + 1)[0]);
  const [a, b] = rimNodes(grid, grid.cellsX);
  for (const node of [a, b]) expect(grid.x[node]).toBeCloseTo(25e-3, 12);
});
