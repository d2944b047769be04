import { expect, test } from 'vitest';
import { ConvergenceError, faultLine, InputError, safeText } from '../../src/numerics/errors.ts';

const fault = { code: 'x', path: 'a.b', required: 'a number', received: '"no"' };

test('a fault in one line, with its hint where it has one', () => {
  expect(faultLine(fault)).toBe('a.b: must be a number; received "no".');
  expect(faultLine({ ...fault, path: '', hint: 'Try 3.' })).toBe('design: must be a number; received "no". Try 3.');
});

test('an error carries all its faults, a line each', () => {
  const error = new InputError(fault, { ...fault, path: 'c' });
  expect(error.message.split('\n')).toHaveLength(2);
  expect([error.name, error.faults.length]).toEqual(['InputError', 2]);
  expect(new ConvergenceError('slow', 'It did not settle.', { steps: 9 })).toMatchObject({
    name: 'ConvergenceError',
    code: 'slow',
    diagnostics: { steps: 9 },
  });
});

test('text of a stranger: cut, and every sign that is not seen written out', () => {
  expect(safeText('a\u202eb\u0000\ud800')).toBe('a\\u{202e}b\\u{0}\\u{d800}');
  expect(safeText('x'.repeat(100))).toHaveLength(63);
  expect(safeText('Größe 👍 שלום')).toBe('Größe 👍 שלום');
});
