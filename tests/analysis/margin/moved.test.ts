import { expect, test } from 'vitest';
import { marginPercent } from '../../../src/analysis/margin/margin-percent.ts';
import { moved } from '../../../src/analysis/margin/moved.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { resolved } from '../../design/least.ts';

const { design } = resolved(DEMO_DESIGN);

test('moves one number and leaves the rest, the given design included', () => {
  const before = structuredClone(design);
  const after = moved(design, 'receiver.pickup.seriesCapacitanceNf', -3);
  expect(after.receiver.pickup.seriesCapacitanceNf).toBe(design.receiver.pickup.seriesCapacitanceNf - 3);
  expect({ ...after, receiver: design.receiver }).toEqual(design);
  expect(design).toEqual(before);
});

test.each(['title', 'receiver.nothing', 'not a path'])('a path without a number (%s) moves nothing', (path) => {
  expect(moved(design, path, 1)).toBe(design);
});

test('margin: reserve over demand, without bound where nothing is asked', () => {
  expect(marginPercent(0.6, 0.5)).toBeCloseTo(20, 12);
  expect(marginPercent(0.25, 0.5)).toBe(-50);
  expect([marginPercent(1, 0), marginPercent(100, 1e-6)]).toEqual([999, 999]);
});
