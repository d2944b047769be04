import { expect, test } from 'vitest';
import { sideLayout } from '../../../src/physics/field/side-layout.ts';
import { coil1, square } from './fixtures.ts';

const metal = { outline: square(30e-3, 1, 2, 0).outline, thickness: 0.5e-3, standoff: 1e-3, conductivity: 36e6 };

test('plates lie behind the winding, standoffs between facing surfaces', () => {
  const half = coil1.halfThickness;
  const ferrite = square(50e-3, 1e-3, 700, 0.5e-3);
  const both = sideLayout({ winding: coil1, ferrite, metal }, -1);
  expect(both.ferriteFront).toBeCloseTo(-(half + 0.5e-3), 15);
  expect(both.ferriteMiddle).toBeCloseTo(-(half + 1e-3), 15);
  expect(both.ferriteBack).toBeCloseTo(-(half + 1.5e-3), 15);
  expect(both.metalFront).toBeCloseTo(-(half + 2.5e-3), 15);
  expect(both.metalBack).toBeCloseTo(-(half + 3e-3), 15);
});

test("without ferrite the metal's standoff starts at the winding's back; a receiver's back is up", () => {
  const { metalFront } = sideLayout({ winding: coil1, ferrite: null, metal }, 1);
  expect(metalFront).toBeCloseTo(coil1.halfThickness + 1e-3, 15);
});
