import { expect, test } from 'vitest';
import type { LinkModel } from '../../../src/analysis/link/link-model.ts';
import { CHECK_POINTS, checkNodes, nodeAt } from '../../../src/analysis/place/check-nodes.ts';

const axis = Float64Array.from({ length: 9 }, (_, i) => -8 + 2 * i);
const nodes = (x: boolean, y: boolean) => checkNodes({ even: { x, y } } as unknown as LinkModel, axis, axis);

test('five evenly spaced places from end to end of an axis', () => {
  expect(Array.from({ length: CHECK_POINTS }, (_, i) => nodeAt(axis, i))).toEqual([-8, -4, 0, 4, 8]);
});

test('all of them where nothing is mirrored, one half or one quarter where something is', () => {
  expect(nodes(false, false)).toHaveLength(25);
  expect(nodes(true, false).every(([x]) => x >= 0)).toBe(true);
  expect(nodes(true, false)).toHaveLength(15);
  expect(nodes(true, true)).toHaveLength(9);
});
