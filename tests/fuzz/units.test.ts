import fc from 'fast-check';
import { expect, test } from 'vitest';
import { parseQuantity } from '../../src/units/parse.ts';
import { UNITS, type UnitName } from '../../src/units/unit-table.ts';
import { expectFaults, hostileText, PATIENCE, share, watched } from './support.ts';

const unit = fc.constantFrom(...(Object.keys(UNITS) as UnitName[]));

const number = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }).map(String),
  fc.constantFrom('5', '3,4', '1 000', '1.2.3', '1,2.3', '1e999', '-1e-999', '٥', '½', '+', '.', '1_000', '0x10', '−3'),
);

const word = fc.oneof(
  fc.constantFrom(...Object.values(UNITS).map(({ symbol }) => symbol)),
  fc.constantFrom('m', 'in', 'mil', 'k', 'M', 'u', 'µ', 'Ohm', '°F', 'K', 'degC', 'e', 'i', 'pi', 'NaN', 'lbf', 'eV'),
  fc.constantFrom('/', '*', '^', '^2', '^0.5', '^-1', '^1e9', '(', ')', ';', '=', '+', ' to ', '[0]', '(1)', '"'),
  hostileText,
);

const typed = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.tuple(number, fc.array(word, { maxLength: 4 })).map(([n, words]) => `${n} ${words.join(' ')}`),
  },
  { weight: 2, arbitrary: fc.tuple(number, fc.array(word, { maxLength: 3 })).map(([n, words]) => n + words.join('')) },
  { weight: 1, arbitrary: hostileText },
  { weight: 1, arbitrary: fc.constantFrom(' ', '5', '(', '\u00a0', '1 ').map((part) => part.repeat(50_000)) },
);

test('whatever is typed is a number or a sentence', { timeout: PATIENCE }, () => {
  fc.assert(
    fc.property(typed, unit, (text, field) => {
      const read = watched(text, () => parseQuantity(text, field));
      if (read.ok) {
        expect(read.value).toSatisfy(Number.isFinite);
        return;
      }
      expectFaults([read.fault]);
      expect(read.sentence).toMatch(/^[A-Z].+\.$/s);
      expect(read.sentence.length).toBeLessThan(300);
    }),
    share(0.627, 0.465),
  );
});

test("a number in the field's own unit is read as that number, to the last bit", { timeout: PATIENCE }, () => {
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), unit, (value, field) => {
      expect(parseQuantity(`${value} ${UNITS[field].symbol}`, field)).toEqual({ ok: true, value: value + 0 });
    }),
    share(0.02),
  );
});

test.each([
  ['5 mm^0.5 mm^0.5', 'mm'],
  ['5 mm^12/mm^11', 'mm'],
  ['5 mm^1e9/mm^999999999', 'mm'],
] as const)('"%s" is refused rather than misread', (text, field) => {
  expect(parseQuantity(text, field)).toMatchObject({ ok: false, fault: { code: 'unknown-unit' } });
});
