import { describe, expect, test } from 'vitest';
import { plateMesh } from '../../../src/physics/field/plate-mesh.ts';
import { plateResponse, respond, toClasses } from '../../../src/physics/field/plate-response.ts';

/** Magnetic moment over volume of a block in a uniform field of 1 A/m along z. */
function polarizability(width: number, thickness: number, susceptibility: number, cell: number): number {
  const outline = { shape: 'roundedRectangle', width, height: width, cornerRadius: 0 } as const;
  const mesh = plateMesh(outline, thickness, cell, 1, 4);
  const { panels } = mesh;
  const potential = Float64Array.from({ length: panels.count }, (_, p) => -panels.centre[3 * p + 2]);
  const charges = respond(plateResponse(mesh, susceptibility), potential, new Float64Array(panels.count));
  let moment = 0;
  for (let p = 0; p < panels.count; p++) moment += charges[p] * panels.centre[3 * p + 2];
  return moment / (width * width * thickness);
}

describe('a plate in a uniform field', () => {
  test('a cube of endless permeability: 3.64 times its volume', () => {
    // Polarizability of a conducting cube, 3.644 (Sihvola, Yla-Oijala, Jarvenpaa and Avelin 2004; from memory).
    expect(Math.abs(polarizability(10e-3, 10e-3, 1e6, 1.7e-3) / 3.644 - 1)).toBeLessThan(0.02);
  });

  test('a wide thin plate across the field: what is left is chi / mu_r', () => {
    // Demagnetizing factor near 1: M = chi H / (1 + chi). Textbook limit; the rim takes some per cent.
    const mu = 5;
    expect(Math.abs(polarizability(40e-3, 0.4e-3, mu - 1, 4e-3) / ((mu - 1) / mu) - 1)).toBeLessThan(0.05);
  });
});

test('classes of eight images: back and forth is eight times the same', () => {
  const values = Float64Array.from({ length: 24 }, (_, i) => Math.sin(3 * i));
  const there = new Float64Array(24);
  const back = new Float64Array(24);
  toClasses(values, 3, there);
  toClasses(there, 3, back);
  expect([...back]).toEqual([...values].map((v) => expect.closeTo(8 * v, 12)));
});

test('the answer is reciprocal: what one potential does to another is the same the other way round', () => {
  const mesh = plateMesh({ shape: 'circle', diameter: 20e-3 }, 1e-3, 3e-3, 1, 2);
  const response = plateResponse(mesh, 600);
  const n = mesh.panels.count;
  const a = Float64Array.from({ length: n }, (_, i) => Math.sin(i));
  const b = Float64Array.from({ length: n }, (_, i) => Math.cos(2 * i));
  const dot = (x: Float64Array, y: Float64Array) => x.reduce((sum, v, i) => sum + v * y[i], 0);
  const ab = dot(b, respond(response, a, new Float64Array(n)));
  const ba = dot(a, respond(response, b, new Float64Array(n)));
  expect(ab / ba - 1).toBeCloseTo(0, 9);
  // Passive: an outside potential is never helped by its own answer.
  expect(dot(a, respond(response, a, new Float64Array(n)))).toBeLessThanOrEqual(0);
});
