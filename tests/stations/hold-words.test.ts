import { describe, expect, test } from 'vitest';
import type { HoldReport } from '../../src/analysis/hold/hold-report.ts';
import type { OffsetMap } from '../../src/analysis/types.ts';
import { spansText } from '../../src/stations/answer-line.ts';
import { aidOf, holdAnswer, holdWhy } from '../../src/stations/hold-words.ts';
import { demo, MAGNETS, RECESS } from '../analysis/hold/demo-design.ts';
import { fakeHoldReport } from '../support/fake-hold.ts';

const bowl = (x: number, y: number, gap: number) => 1.6 - 0.012 * (x * x + y * y) - 0.04 * gap;
const plain = (text: string) => text.replace(/\u00a0/g, ' ').replace(/\u2060/g, '');
const both = fakeHoldReport(demo({ recess: RECESS, magnets: MAGNETS }), bowl, true);

describe('the answer of Hold', () => {
  test('before the first report', () => {
    expect(spansText(holdAnswer(null, 'both'))).toMatch(/^Working out/);
    expect(holdWhy(null, 'both', false)).toBe('');
    // The map of Place is there earlier and says how far it may lie.
    const map = { reachMm: { value: 3.72, low: 3, high: 4 }, wantedMarginPercent: 20 } as OffsetMap;
    expect(plain(spansText(holdAnswer(null, 'both', map)))).toBe(
      'Whatever holds it must keep its centre within 3.7 mm to have 20 % in hand; working out what does …',
    );
  });

  test('both: clearance, magnets, chance, each with its numbers', () => {
    const text = plain(spansText(holdAnswer(both, 'both')));
    expect(text).toMatch(
      /^Up to \d\.\d\d mm of clearance keeps 20 % in hand; yours leaves \d+ %\. Magnets bring it home from \d\.\d mm \(\d\.\d–\d\.\d\)\. [\d.]+ % \([\d.]+–[\d.]+\) of casual placements work\.$/,
    );
    const recommended = { ...both.recess.recommended, clearanceBandMm: { low: null, high: 6.13 } };
    const banded = holdAnswer({ ...both, recess: { ...both.recess, recommended } }, 'recess');
    expect(plain(spansText(banded))).toMatch(/^Up to \d\.\d\d mm \(none–6\.1\) of clearance keeps/);
    const why = plain(holdWhy(both, 'both', true));
    expect(why).toMatch(
      /^The magnets leave it within \d\.\d mm \(\d\.\d–(\d\.\d|anywhere)\) of home\. With nothing to hold it [\d.]+ % would work\. Runs out first at the .* corner.*: 20\.\d % solved directly; the model’s own band there is \d+ to \d+ %\./,
    );
    expect(holdWhy(both, 'both', false)).toMatch(/First look; direct solutions and ferrite follow\.$/);
  });

  test('bad news is told: no recess, no centring, an unsafe rest band, too much clearance', () => {
    const recess = { ...both.recess, recommended: { ...both.recess.recommended, clearanceMm: null } };
    expect(plain(spansText(holdAnswer({ ...both, recess }, 'recess')))).toMatch(/^No recess keeps 20 % in hand/);
    const magnets = both.magnets as NonNullable<HoldReport['magnets']>;
    const still = { ...magnets, holding: { ...magnets.holding, restBandMm: null } };
    const stuck = holdAnswer({ ...both, magnets: still }, 'magnets');
    expect(spansText(stuck)).toContain('do not bring it home against friction');
    expect(stuck.some((span) => span.tone === 'bad')).toBe(true);
    const off = holdAnswer({ ...both, magnets: { ...magnets, restBandIsSafe: false } }, 'magnets');
    expect(plain(spansText(off))).toMatch(/^Magnets bring it home from .* to within \d\.\d mm, not all of it safe\./);
    const loose = both.recess.asDesigned as NonNullable<HoldReport['recess']['asDesigned']>;
    const tight = { ...both.recess, asDesigned: { ...loose, keepsMargin: false } };
    expect(spansText(holdAnswer({ ...both, recess: tight }, 'recess'))).toContain('yours leaves only');
  });

  test('nothing: what a recess would make of it', () => {
    const free = fakeHoldReport(demo(), bowl, true);
    expect(plain(spansText(holdAnswer(free, 'nothing')))).toMatch(
      /^[\d.]+ % \([\d.]+–[\d.]+\) of placements work with nothing to hold it\. A recess of \d\.\d\d mm clearance would make it [\d.]+ %\.$/,
    );
  });
});

test('what a design has', () => {
  expect(aidOf({ recess: null, magnets: null })).toBe('nothing');
  expect(aidOf({ recess: RECESS, magnets: null })).toBe('recess');
  expect(aidOf({ recess: null, magnets: MAGNETS })).toBe('magnets');
  expect(aidOf({ recess: RECESS, magnets: MAGNETS })).toBe('both');
});
