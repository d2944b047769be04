import { expect, test } from 'vitest';
import { plain, signedPercent, withUnit } from '../../src/charts/tick-text.ts';

test('numbers carry a true minus sign, no trailing zeros and no negative zero', () => {
  expect(plain(-2.5)).toBe('\u22122.5');
  expect(plain(6)).toBe('6');
  expect(plain(-0.001)).toBe('0');
  expect(plain(0.30000000000000004, 2)).toBe('0.3');
});

test('percent is signed, degrees stand at the number', () => {
  expect(signedPercent(20)).toBe('+20\u00a0%');
  expect(signedPercent(-0.4)).toBe('0\u00a0%');
  expect(signedPercent(-12.6)).toBe('\u221213\u00a0%');
  expect(withUnit(4, '°')).toBe('4°');
  expect(withUnit(5.94, 'mm')).toBe('5.9\u00a0mm');
  expect(withUnit(3, '')).toBe('3');
});
