import { expect, test } from 'vitest';
import { sheetCutoff } from '../../../src/physics/field/sheet-cutoff.ts';
import type { SideModel } from '../../../src/physics/field/side-model.ts';
import { coil1, coil2 } from './fixtures.ts';

const AT = { x: 0, y: 0, z: 7e-3, yaw: 0, tiltX: 0, tiltY: 0 };
/** Only what is read of a side: its winding, where its sheet is cut, how deep that lies. */
const side = (winding: typeof coil1, cutOff: number | null, sheetDepth = 2e-3) =>
  ({ side: { winding }, cutOff, sheetDepth }) as unknown as SideModel;

test('nothing where no sheet was cut', () => {
  expect(sheetCutoff(side(coil1, null), side(coil2, null), AT)).toEqual({ dL1: 0, dL2: 0, dM: 0 });
});

test('a cut far out: 3 mu0 m^2 h / (16 pi R^4), m the area of all turns', () => {
  // The stated integrand is r^-5 where r is far beyond the heights; its integral from R on is 1 / (4 R^4).
  const R = 0.5;
  const { spec } = coil1;
  const outline = spec.outline as { outerDiameter: number; innerDiameter: number };
  const [first, last] = [(outline.outerDiameter - 1.1e-3) / 2, (outline.innerDiameter + 1.1e-3) / 2];
  let area = 0;
  for (let i = 0; i < 10; i++) area += Math.PI * (first + ((last - first) * i) / 9) ** 2;
  const wanted = (3 * 4e-7 * Math.PI * area ** 2 * 2e-3) / (16 * Math.PI * R ** 4);
  // Areas are summed by chords: 1 % low for a circle of 24.
  expect(Math.abs(sheetCutoff(side(coil1, R), side(coil2, null), AT).dL1 / wanted - 1)).toBeLessThan(0.03);
});

test('the nearer the cut, the more it may do; off centre more than centred', () => {
  const of = (cut: number, x = 0) => sheetCutoff(side(coil1, cut), side(coil2, null), { ...AT, x });
  expect(of(0.1).dL1).toBeGreaterThan(of(0.2).dL1);
  expect(of(0.1, 0.02).dM).toBeGreaterThan(of(0.1).dM);
});
