import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatBand, formatGiven, formatInBand, formatQuantity } from '../../src/units/format.ts';
import { parseQuantity } from '../../src/units/parse.ts';
import { UNITS, type UnitName } from '../../src/units/unit-table.ts';

const plain = { space: ' ' };

describe('formatQuantity', () => {
  // Prefixes: SI Brochure, 9th edition (2019), table 7.
  test.each<[number, UnitName, string]>([
    [5.9e-6, 'H', '5.90 µH'],
    [5.9, 'uH', '5.90 µH'],
    [0.0059, 'm', '5.90 mm'],
    [5.9, 'mm', '5.90 mm'],
    [0.02, 'mm', '20.0 µm'],
    [1234, 'mm', '1.23 m'],
    [180, 'nF', '180 nF'],
    [0.18, 'uF', '180 nF'],
    [400, 'nF', '400 nF'],
    [999.6, 'mm', '1.00 m'],
    [999.4, 'mm', '999 mm'],
    [140000, 'Hz', '140 kHz'],
    [0.045, 'ohm', '45.0 mΩ'],
    [0.48, 'A', '480 mA'],
    [-0.48, 'A', '−480 mA'],
    [0, 'A', '0 A'],
    [-0, 'A', '0 A'],
    [180, 'g', '180 g'],
    [0.18, 'kg', '180 g'],
    [1500, 'g', '1.50 kg'],
    [36, 'MS/m', '36.0 MS/m'],
    [25.04, 'degC', '25.0 °C'],
    [-12.345, 'deg', '−12.3°'],
    [20.123, '%', '20.1 %'],
    [0.123456, '1', '0.123'],
    [Number.NaN, 'A', '–'],
    [Number.POSITIVE_INFINITY, 'A', '∞ A'],
    [Number.NEGATIVE_INFINITY, 'A', '−∞ A'],
    [1e-20, 'A', '0.0000100 fA'],
  ])('%d %s prints as %s', (value, unit, wanted) => {
    expect(formatQuantity(value, unit, plain)).toBe(wanted);
  });

  test.each<[number, UnitName, number, string]>([
    [5.9034e-6, 'H', 4.1e-8, '5.90 ± 0.04 µH'],
    [5.9034e-6, 'H', 1.3e-8, '5.903 ± 0.013 µH'],
    [0.4876, 'A', 0.052, '490 ± 50 mA'],
    [0.98, 'A', 0.2, '980 ± 200 mA'],
    [0, 'A', 0.02, '0 ± 20 mA'],
    [0.5123456789, '1', 1e-12, '0.5123457 ± 0.0000001'],
    [12.34, 'deg', 0.5, '(12.3 ± 0.5)°'],
    [1.2, 'A', 0, '1.20 A'],
  ])('%d %s with error %d prints as %s', (value, unit, error, wanted) => {
    expect(formatQuantity(value, unit, { ...plain, error })).toBe(wanted);
  });

  test('a thin space stands before the unit by default', () => {
    expect(formatQuantity(5.9, 'mm')).toBe('5.90\u2009mm');
  });

  test('a fixed unit stays', () => {
    expect(formatQuantity(0.02, 'mm', { ...plain, fixedUnit: true })).toBe('0.0200 mm');
  });

  test('what is printed reads back within half a last digit (seed 21)', () => {
    const units = (Object.keys(UNITS) as UnitName[]).filter((unit) => UNITS[unit].stem !== null);
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
        fc.constantFrom(...units),
        fc.integer({ min: 2, max: 6 }),
        (value, unit, digits) => {
          const parsed = parseQuantity(formatQuantity(value, unit, { ...plain, digits }), unit);
          if (!parsed.ok) throw new Error(parsed.sentence);
          expect(Math.abs(parsed.value - value)).toBeLessThanOrEqual(value * 0.5001 * 10 ** (1 - digits));
        },
      ),
      { seed: 21, numRuns: 500 },
    );
  });
});

describe('formatBand', () => {
  test.each<[number, number, UnitName, string]>([
    [6.41, 7.83, 'mm', '6.4–7.8 mm'],
    [0.0064, 0.0078, 'm', '6.4–7.8 mm'],
    [-3.1, 4.2, '%', '−3 to 4 %'],
    [5, 5, 'mm', '5.00 mm'],
    [0.95, 1.24, 'A', '0.95–1.24 A'],
    [100, 400, 'mm', '100–400 mm'],
    [Number.NaN, 1, 'mm', '–'],
    [1, Number.POSITIVE_INFINITY, 'mm', '∞ mm'],
  ])('%d to %d %s prints as %s', (low, high, unit, wanted) => {
    expect(formatBand(low, high, unit, plain)).toBe(wanted);
  });
});

describe('formatInBand', () => {
  test.each<[number, number, number, UnitName, number, string]>([
    [36.45, 35.8, 36.6, 'degC', 2, '36.5 °C'],
    [78.34, 77.8, 79.6, '%', 2, '78.3 %'],
    [1.058, 0.8, 1.4, 'A', 3, '1.06 A'],
    [1.058, 0.8, 1.4, 'A', 0, '1.1 A'],
    [-0.0096, -0.235, 0.216, 'mm', 0, '0.0 mm'],
    [393.04, 380.2, 406.3, 'nF', 0, '393 nF'],
    [1234, 800, 1600, 'mm', 0, '1200 mm'],
    [5, 5, 5, 'mm', 2, '5.0 mm'],
    [Number.NaN, 1, 2, 'mm', 2, '–'],
  ])('%d within %d to %d %s, %d digits at least: %s', (value, low, high, unit, digits, wanted) => {
    expect(formatInBand(value, low, high, unit, { space: ' ', digits })).toBe(wanted);
  });

  test('never stands outside its band as printed (seed 5)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e4, max: 1e4, noNaN: true }),
        fc.double({ min: 1e-2, max: 1e3, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (low, width, share) => {
          const high = low + width;
          const text = (x: number) => Number(formatInBand(x, low, high, '1', { space: ' ' }).replace('\u2212', '-'));
          const value = text(low + share * width);
          expect(value).toBeGreaterThanOrEqual(text(low));
          expect(value).toBeLessThanOrEqual(text(high));
        },
      ),
      { seed: 5, numRuns: 300 },
    );
  });
});

describe('formatGiven', () => {
  test.each<[number, UnitName, string]>([
    [5.9, 'mm', '5.9 mm'],
    [0.1 + 0.2, 'mm', '0.3 mm'],
    [-12.5, 'deg', '−12.5°'],
    [10, 'turns', '10 turns'],
    [0.02, '1', '0.02'],
  ])('%d %s prints as %s', (value, unit, wanted) => {
    expect(formatGiven(value, unit, ' ')).toBe(wanted);
  });
});
