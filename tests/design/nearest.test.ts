import { expect, test } from 'vitest';
import { nearest } from '../../src/design/nearest.ts';

test.each<[string, string[], string | null]>([
  ['tunrs', ['turns', 'layers'], 'turns'],
  ['gap', ['gapMm', 'yawDeg'], 'gapMm'],
  ['TURNS', ['turns'], 'turns'],
  ['slove', ['solve', 'map'], 'solve'],
  ['xyz', ['turns'], null],
  ['', ['turns'], null],
  ['x'.repeat(1e5), ['turns'], null],
])('nearest to %s', (typed, known, wanted) => {
  expect(nearest(typed, known)).toBe(wanted);
});
