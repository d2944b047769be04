import fc from 'fast-check';
import { expect, test } from 'vitest';
import { decimalOf, quotient, readDecimal, times } from '../../src/units/decimal.ts';

test.each(['', '.', '-', 'e5', '1e', '1.2.3', ' 1', '0x10', '1e1001'])('%j is no decimal', (text) => {
  expect(readDecimal(text)).toBeNull();
});

test('a double goes through a decimal unchanged (seed 31)', () => {
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
      const back = quotient(decimalOf(value), { digits: 1n, exponent: 0 });
      expect(back === value).toBe(true);
    }),
    { seed: 31, numRuns: 1000 },
  );
});

test('products and quotients of decimals round once', () => {
  // 0.1 * 3 is 0.30000000000000004 in doubles.
  expect(quotient(times(decimalOf(0.1), decimalOf(3)), decimalOf(1))).toBe(0.3);
  expect(quotient(decimalOf(1), decimalOf(3))).toBe(1 / 3);
  expect(quotient(decimalOf(-25.4), decimalOf(1000))).toBe(-0.0254);
  expect(quotient(decimalOf(1), decimalOf(0))).toBeNaN();
});
