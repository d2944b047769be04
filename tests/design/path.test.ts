import fc from 'fast-check';
import { expect, test } from 'vitest';
import { formatPath, parsePath, valueAt } from '../../src/design/path.ts';
import { safeText } from '../../src/numerics/errors.ts';

test.each<[string, (string | number)[]]>([
  ['transmitter.coil.turns', ['transmitter', 'coil', 'turns']],
  ['stack[2].thicknessMm', ['stack', 2, 'thicknessMm']],
  ['stack.2.thicknessMm', ['stack', 2, 'thicknessMm']],
  ['a[0][1]', ['a', 0, 1]],
])('%s is a path', (text, segments) => {
  expect(parsePath(text)).toEqual({ ok: true, segments });
});

test.each(['', '.', 'a.', '.a', 'a..b', '[0]', '0', 'a[', 'a[-1]', 'a[1.5]', 'a b', 'a["b"]', 'a]', 'a[99999999]'])(
  '%j is no path',
  (text) => {
    expect(parsePath(text).ok).toBe(false);
  },
);

test('what is printed reads back (seed 61)', () => {
  const key = fc.stringMatching(/^[A-Za-z_$][A-Za-z0-9_$]{0,20}$/);
  const tail = fc.array(fc.oneof(key, fc.nat(999)), { maxLength: 5 });
  fc.assert(
    fc.property(key, tail, (first, rest) => {
      expect(parsePath(formatPath([first, ...rest]))).toEqual({ ok: true, segments: [first, ...rest] });
    }),
    { seed: 61, numRuns: 300 },
  );
});

test('hostile keys are quoted, cut and made visible', () => {
  expect(formatPath(['a', 'b c'])).toBe('a["b c"]');
  expect(formatPath(['\u202eevil\n'])).toBe('["\\\\u{202e}evil\\\\u{a}"]');
  expect(formatPath(['x'.repeat(500)]).length).toBeLessThan(80);
  expect(safeText('\u0000\u200b')).toBe('\\u{0}\\u{200b}');
});

test('values are found by own keys only', () => {
  expect(valueAt({ a: [{ b: 3 }] }, ['a', 0, 'b'])).toBe(3);
  expect(valueAt({}, ['toString'])).toBeUndefined();
  expect(valueAt(null, ['a'])).toBeUndefined();
});
