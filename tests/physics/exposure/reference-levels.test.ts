import { expect, test } from 'vitest';
import { LEVELS_RANGE, referenceLevels } from '../../../src/physics/exposure/reference-levels.ts';

const at = (frequency: number) =>
  Object.fromEntries(referenceLevels(frequency).map(({ id, rmsT }) => [id, rmsT * 1e6]));

/** Health Physics 99 (2010) 818 as reprinted in a textbook (seen): 0.27e-4 T and 1e-4 T from 3 kHz to 10 MHz. */
test('the levels of 2010 are flat from 3 kHz to 10 MHz', () => {
  for (const frequency of [3e3, 50e3, 130e3, 6.78e6, 10e6]) {
    expect(at(frequency)['2010-public']).toBeCloseTo(27, 9);
    expect(at(frequency)['2010-occupational']).toBeCloseTo(100, 9);
  }
  // The same reprint: 0.08/f and 0.3/f below, f in Hz; within 2 % continuous at 3 kHz.
  expect(at(1000)['2010-public']).toBeCloseTo(80, 9);
  expect(at(1000)['2010-occupational']).toBeCloseTo(300, 9);
});

/** Health Physics 118 (2020) 483, Table 6, as reprinted (seen): 4.9/fM and 10.8/fM A/m; Table 5: 2.2/fM and 4.9/fM (from memory). */
test('the levels of 2020 begin at 100 kHz and fall with the frequency', () => {
  expect(at(99e3)['2020-local-public']).toBeUndefined();
  // 4.9 / 0.1 A/m = 49 A/m, 61.6 uT.
  expect(at(100e3)['2020-local-public']).toBeCloseTo(61.575, 3);
  expect(at(100e3)['2020-local-occupational']).toBeCloseTo(135.717, 3);
  expect(at(100e3)['2020-body-public']).toBeCloseTo(27.646, 3);
  expect(at(13.56e6)['2020-local-public']).toBeCloseTo(0.4541, 4);
  expect(at(13.56e6)['2010-public']).toBeUndefined();
});

test('every level names its edition, table and averaging; outside the range there is none', () => {
  for (const level of referenceLevels(130e3)) {
    expect(level.edition).toMatch(/ICNIRP 20[12]0/);
    expect(level.table).toMatch(/Table \d/);
    expect(level.averaging.length).toBeGreaterThan(10);
  }
  expect(referenceLevels(LEVELS_RANGE.lowest / 2)).toEqual([]);
  expect(referenceLevels(LEVELS_RANGE.highest * 2)).toEqual([]);
});
