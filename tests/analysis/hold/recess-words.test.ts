import { expect, test } from 'vitest';
import type { CheckedRecess } from '../../../src/analysis/hold/recess-report.ts';
import { endsAtOnce } from '../../../src/analysis/hold/recess-words.ts';

const recess = (directPercent: number | null, more: Partial<CheckedRecess> = {}) =>
  ({ clearanceMm: 2, directPercent, unlimited: false, ...more }) as CheckedRecess;

test('a cliff is told, a slope is not', () => {
  expect(endsAtOnce(recess(77), 20)).toMatch(/^; it ends there at once/);
  expect(endsAtOnce(recess(20.04), 20)).toBe('');
  expect(endsAtOnce(recess(null), 20)).toBe('');
  expect(endsAtOnce(recess(77, { unlimited: true }), 20)).toBe('');
  expect(endsAtOnce(recess(77, { clearanceMm: null }), 20)).toBe('');
});
