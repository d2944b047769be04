import { expect, test } from 'vitest';
import { conductorHeight, conductorWidth } from '../../../src/physics/coil/conductor-size.ts';
import { litz, trace } from './coils.ts';

test("outer sizes: bundle, insulation, or the trace's two", () => {
  const insulated = { kind: 'solid', diameter: 1e-3, insulatedDiameter: 1.2e-3 } as const;
  expect([conductorWidth(insulated), conductorHeight(insulated)]).toEqual([1.2e-3, 1.2e-3]);
  expect([conductorWidth(trace(1e-3)), conductorHeight(trace(1e-3))]).toEqual([1e-3, 35e-6]);
  expect(conductorHeight(litz(60, 0.75e-3))).toBe(0.75e-3);
});
