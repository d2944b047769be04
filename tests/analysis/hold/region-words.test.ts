import { expect, it } from 'vitest';
import type { RegionReport } from '../../../src/analysis/hold/region-report.ts';
import { allowedWords, checkWords } from '../../../src/analysis/hold/region-words.ts';

const region = {
  worstGapsMm: [5.4, 5.9, 6.4],
  worstTurns: [-0.0473, 0, 0.0473],
  worstTilts: [0.0179, 0.0132],
} as unknown as RegionReport;

it('says what was allowed, with units', () => {
  expect(allowedWords(region)).toBe('gap (5.4 to 6.4 mm), turn (up to 2.7°) and tilt (up to 1.0°)');
  expect(allowedWords({ ...region, worstGapsMm: [5.9], worstTilts: [0, 0] })).toBe(
    'gap (5.9 mm), turn (up to 2.7°) and tilt (none known)',
  );
});

it('says what the check found', () => {
  expect(checkWords({ places: 10, shortfallPercent: 0 })).toMatch(/^10 allowed places .* none had less margin/);
  expect(checkWords({ places: 10, shortfallPercent: 1.26 })).toContain('at most 1.3 points below');
});
