import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseQuantity } from '../../src/units/parse.ts';
import { UNITS, type UnitName } from '../../src/units/unit-table.ts';

function value(text: string, unit: UnitName): number {
  const parsed = parseQuantity(text, unit);
  if (!parsed.ok) throw new Error(`${text} -> ${parsed.sentence}`);
  return parsed.value;
}

function refusal(text: string, unit: UnitName): { code: string; sentence: string } {
  const parsed = parseQuantity(text, unit);
  if (parsed.ok) throw new Error(`${text} was read as ${parsed.value}`);
  return { code: parsed.fault.code, sentence: parsed.sentence };
}

describe('parseQuantity', () => {
  // Prefixes: SI Brochure, 9th edition (2019), table 7. Inch = 25.4 mm exactly: NIST SP 811 (2008), appendix B.8.
  // Hour, degree, degree Celsius: SI Brochure, tables 8 and 4. From memory; the digits are definitions.
  test.each<[string, UnitName, number]>([
    ['3.4 mm', 'mm', 3.4],
    ['3.4mm', 'mm', 3.4],
    ['3,4 mm', 'mm', 3.4],
    ['3.4', 'mm', 3.4],
    ['.5', 'mm', 0.5],
    ['5.', 'mm', 5],
    ['−2.5 mm', 'mm', -2.5],
    ['+2.5 mm', 'mm', 2.5],
    ['0.34 cm', 'mm', 3.4],
    ['3400 um', 'mm', 3.4],
    ['3400 µm', 'mm', 3.4],
    ['0.0034 m', 'mm', 3.4],
    ['1 in', 'mm', 25.4],
    ['0.3 inch', 'mm', 7.62],
    ['2 mil', 'mm', 0.0508],
    ['5.9 mm', 'm', 0.0059],
    ['0.18 uF', 'nF', 180],
    ['0.18 \u00b5F', 'nF', 180],
    ['0.18 \u03bcF', 'nF', 180],
    ['0,18µF', 'nF', 180],
    ['180 nF', 'F', 180e-9],
    ['100n', 'nF', 100],
    ['0.1u', 'nF', 100],
    ['47p', 'nF', 0.047],
    ['5 uH', 'H', 5e-6],
    ['5 uH', 'uH', 5],
    ['6.3 µH', 'uH', 6.3],
    ['1.2k', 'ohm', 1200],
    ['1.2 kohm', 'ohm', 1200],
    ['1.2 kΩ', 'ohm', 1200],
    ['1.2 k\u2126', 'ohm', 1200],
    ['47 mΩ', 'mohm', 47],
    ['0.047', 'ohm', 0.047],
    ['100m', 'ohm', 0.1],
    ['108k', 'kHz', 108],
    ['0.14 MHz', 'kHz', 140],
    ['140e3 Hz', 'kHz', 140],
    ['480 mA', 'A', 0.48],
    ['5V', 'V', 5],
    ['2 000 mAh', 'Ah', 2],
    ['2 A h', 'Ah', 2],
    ['41 nC', 'nC', 41],
    ['76 ns', 'ns', 76],
    ['2 ms', 'ms', 2],
    ['90 min', 'h', 1.5],
    ['0.18 kg', 'g', 180],
    ['180', 'g', 180],
    ['12 deg', 'deg', 12],
    ['12°', 'deg', 12],
    ['-12,5 °', 'deg', -12.5],
    ['25 °C', 'degC', 25],
    ['25 C', 'degC', 25],
    ['-5', 'degC', -5],
    ['77 °F', 'degC', 25],
    ['298.15 K', 'degC', 25],
    ['18 K/W', 'K/W', 18],
    ['36 MS/m', 'MS/m', 36],
    ['3.6e7 S/m', 'MS/m', 36],
    ['350 mT', 'mT', 350],
    ['0.35 T', 'mT', 350],
    ['20 %', '%', 20],
    ['20', '%', 20],
    ['20 %', '1', 0.2],
    ['10 turns', 'turns', 10],
    ['1 turn', 'turns', 1],
    ['1 200', 'mm', 1200],
    ['1\u202f200,5 mm', 'mm', 1200.5],
  ])('%s in %s is %d', (text, unit, wanted) => {
    expect(value(text, unit)).toBe(wanted);
  });

  test('90 degrees is half of pi, and back', () => {
    expect(value('90 deg', 'rad')).toBeCloseTo(Math.PI / 2, 15);
    expect(value('1 rad', 'deg')).toBeCloseTo(180 / Math.PI, 12);
  });

  test.each<[string, UnitName, string, RegExp]>([
    ['', 'mm', 'empty', /^A length is needed, for example 3\.4 mm\.$/],
    ['   ', 'uH', 'empty', /^An inductance is needed/],
    ['0.18 uF', 'mm', 'wrong-dimension', /^That is a capacitance; a length is needed, for example 3\.4 mm\.$/],
    ['3 mm', 'nF', 'wrong-dimension', /^That is a length; a capacitance is needed, for example 0\.18 uF\.$/],
    ['100 m', 'ohm', 'wrong-dimension', /^That is a length; a resistance is needed/],
    ['3 mm^2', 'mm', 'wrong-dimension', /^That is something else; a length/],
    ['5 V', 'A', 'wrong-dimension', /^That is a voltage; a current/],
    ['3 furlongs/foo', 'mm', 'unknown-unit', /not known; a length/],
    ['hello', 'mm', 'not-a-number', /does not begin with a number/],
    ['mm', 'mm', 'not-a-number', /number/],
    ['.', 'mm', 'not-a-number', /number/],
    ['1,234.5 mm', 'mm', 'two-separators', /one decimal point or comma/],
    ["1'234 mm", 'mm', 'two-separators', /one decimal/],
    ['1.2.3', 'mm', 'two-separators', /one decimal/],
    ['3 mm 4 mm', 'mm', 'unknown-unit', /length/],
    ['3 + 4', 'mm', 'two-numbers', /more than one number/],
    ['3 4', 'mm', 'two-numbers', /more than one number/],
    ['1e999', 'mm', 'not-finite', /too large/],
    ['NaN', 'mm', 'not-a-number', /number/],
    ['Infinity', 'mm', 'not-a-number', /number/],
    ['20 %', 'mm', 'unknown-unit', /length/],
    [`1${'0'.repeat(100)}`, 'mm', 'too-long', /length/],
    ['5 __proto__', 'mm', 'unknown-unit', /length/],
    ['5 constructor', 'mm', 'unknown-unit', /length/],
    ['5 <b>mm</b>', 'mm', 'unknown-unit', /length/],
  ])('%j in a %s field is refused as %s', (text, unit, code, sentence) => {
    const refused = refusal(text, unit);
    expect(refused.code).toBe(code);
    expect(refused.sentence).toMatch(sentence);
  });

  test('decimal prefixes give the literal, digit for digit (seed 11)', () => {
    const decimal = fc.tuple(fc.integer({ min: 1, max: 999999 }), fc.integer({ min: 0, max: 5 }));
    fc.assert(
      fc.property(decimal, fc.constantFrom('p', 'n', 'u', 'm', 'k', 'M'), ([digits, places], prefix) => {
        const text = places === 0 ? String(digits) : (digits / 10 ** places).toFixed(places);
        const power = { p: -12, n: -9, u: -6, m: -3, k: 3, M: 6 }[prefix];
        expect(value(`${text} ${prefix}H`, 'H')).toBe(Number(`${text}e${power}`));
      }),
      { seed: 11, numRuns: 500 },
    );
  });

  test('no text makes it throw (seed 12)', () => {
    const units = Object.keys(UNITS) as UnitName[];
    const near = fc
      .tuple(fc.float(), fc.constantFrom('', ' ', ' mm', 'uF', ' k', '%', '°', ' Ω m', '^', '/'))
      .map((a) => a.join(''));
    fc.assert(
      fc.property(
        fc.oneof(fc.string({ unit: 'binary' }), fc.string(), near),
        fc.constantFrom(...units),
        (text, unit) => {
          const parsed = parseQuantity(text, unit);
          if (parsed.ok) expect(Number.isFinite(parsed.value)).toBe(true);
          else expect(parsed.sentence).toMatch(/ is needed, for example .*\.$/);
        },
      ),
      { seed: 12, numRuns: 600 },
    );
  }, 30_000);
});
