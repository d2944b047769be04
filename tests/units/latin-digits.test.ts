import { expect, test } from 'vitest';
import { latinDigits } from '../../src/units/latin-digits.ts';
import { parseQuantity } from '../../src/units/parse.ts';

test.each([
  ['\u0663\u066b\u0665 mm', '3.5 mm'],
  ['\u06f3\u06f9', '39'],
  ['\uff13\uff0e\uff15', '3.5'],
  ['\uff13\uff0c\uff15', '3,5'],
  ['3,5 µm', '3,5 µm'],
])('%s reads as %s', (typed, wanted) => {
  expect(latinDigits(typed)).toBe(wanted);
});

test('a field takes them', () => {
  expect(parseQuantity('\u0663\u066b\u0665 mm', 'mm')).toEqual({ ok: true, value: 3.5 });
  expect(parseQuantity('\uff15', 'V')).toEqual({ ok: true, value: 5 });
});
