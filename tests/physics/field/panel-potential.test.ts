import { expect, it } from 'vitest';
import { addPanelField, panelPotential } from '../../../src/physics/field/panel-potential.ts';
import { allocatePanels, panelPoints, setPanel, transformPanels } from '../../../src/physics/field/panel-set.ts';

const set = allocatePanels(2);
setPanel(set, 0, [0, 0, 0, 2, 0, 0, 2, 1, 0, 0, 1, 0]);
// A skew trapezium standing upright.
setPanel(set, 1, [0, 1, 0, 3, 1, 0, 2, 1, 1, 1, 1, 1]);

/** Plain cubature of 1/r: shares nothing with the closed form. */
function cubature(p: number, x: number, y: number, z: number): number {
  const points = new Float64Array(4 * 3600);
  panelPoints(set, p, 60, points);
  let sum = 0;
  for (let i = 0; i < points.length; i += 4) {
    sum += points[i + 3]! / Math.hypot(points[i]! - x, points[i + 1]! - y, points[i + 2]! - z);
  }
  return sum * set.area[p]!;
}

it('is the integral of 1/r', () => {
  for (const [x, y, z] of [
    [0.3, 0.4, 0.8],
    [3, -2, 0],
    [-1, 2.5, -0.7],
    [40, 10, 5],
  ] as const) {
    for (const p of [0, 1])
      expect(Math.abs(panelPotential(set, p, x, y, z) / cubature(p, x, y, z) - 1)).toBeLessThan(1e-9);
  }
});

it('is 4 a ln(1 + sqrt 2) in the middle of a square of side a, and finite on its edge', () => {
  // Closed form, e.g. Maue 1949 (from memory); also the sum of eight triangles by hand.
  const square = allocatePanels(1);
  setPanel(square, 0, [-1, -1, 0, 1, -1, 0, 1, 1, 0, -1, 1, 0]);
  expect(panelPotential(square, 0, 0, 0, 0)).toBeCloseTo(8 * Math.log(1 + Math.SQRT2), 12);
  expect(Number.isFinite(panelPotential(square, 0, 1, 0.2, 0))).toBe(true);
  expect(Number.isFinite(panelPotential(square, 0, 1, 1, 0))).toBe(true);
});

it('has its field as minus the gradient', () => {
  const h = 1e-4;
  const field = new Float64Array(3);
  for (const p of [0, 1]) {
    field.fill(0);
    addPanelField(set, p, 0.7, 0.3, 0.6, 1, field);
    for (let k = 0; k < 3; k++) {
      const at = (s: number) =>
        panelPotential(set, p, 0.7 + (k === 0 ? s : 0), 0.3 + (k === 1 ? s : 0), 0.6 + (k === 2 ? s : 0));
      expect(Math.abs(field[k]! + (at(h) - at(-h)) / (2 * h))).toBeLessThan(1e-6);
    }
  }
});

it('keeps area, centre and moments under a motion', () => {
  expect(set.area[0]).toBeCloseTo(2, 14);
  expect(set.area[1]).toBeCloseTo(2, 14);
  expect([...set.centre.subarray(0, 3)]).toEqual([1, 0.5, 0]);
  expect(set.moment[0]).toBeCloseTo(4 / 12, 14);
  const turned = transformPanels(set, Float64Array.of(0, -1, 0, 1, 0, 0, 0, 0, 1, 5, 0, 0), allocatePanels(2));
  expect(turned.centre[0]).toBeCloseTo(4.5, 14);
  expect(turned.moment[1]).toBeCloseTo(4 / 12, 14);
  const [x, y, z] = [5 - 0.4, 0.3, 0.8];
  expect(panelPotential(turned, 0, x, y, z)).toBeCloseTo(panelPotential(set, 0, 0.3, 0.4, 0.8), 12);
});
