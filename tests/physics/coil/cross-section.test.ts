import { expect, test } from 'vitest';
import { cornerAddition, cornerDoubt, crossSectionOf } from '../../../src/physics/coil/cross-section.ts';
import { litz, trace } from './coils.ts';

test('litz carries current over its bundle, solid wire over its copper, traces over their rectangle', () => {
  expect(crossSectionOf(litz(60, 0.75e-3), 1)).toMatchObject({ kind: 'round', radius: 0.375e-3 });
  const insulated = { kind: 'solid', diameter: 1e-3, insulatedDiameter: 1.2e-3 } as const;
  expect(crossSectionOf(insulated, 0)).toMatchObject({ radius: 0.5e-3, meanDistance: 0.5e-3 });
  const strip = crossSectionOf(trace(1e-3, 35e-6), 1);
  expect(strip.meanDistance).toBeCloseTo(0.2235 * 1.035e-3, 5);
});

test('a right-angled corner of round wire adds twice the radius less its mean distance', () => {
  const section = crossSectionOf(litz(60, 0.75e-3), 1);
  expect(cornerAddition(section)).toBeCloseTo(0.75e-3 * (1 - Math.exp(-0.25)), 15);
  // 1 - 128 / 45 pi = 0.0946, at both ends.
  expect(cornerDoubt(section) / section.endDistance).toBeCloseTo(2 * (1 - 128 / (45 * Math.PI)), 2);
});
