import { expect, test } from 'vitest';
import { PLAIN_LINE, PLAIN_LINES, strangeSign } from '../../src/design/plain-text.ts';
import { changed, lines } from './changed.ts';

test('names of every script, signs and emoji are plain text', () => {
  for (const text of [
    '',
    'Größe 12 µm – “x”',
    'שלום',
    'نمونه\u200cها',
    '音声ガイド',
    '👩‍👩‍👧',
    '<b>&"\'',
    '=1+1',
    '\u{20000}',
  ])
    expect(PLAIN_LINE.test(text), text).toBe(true);
});

test.each([
  ['a\u001b[2J', 'U+001B as character 2'],
  ['\u009b31m', 'U+009B as character 1'],
  ['👍\u202e', 'U+202E as character 2'],
  ['\u2067', 'U+2067 as character 1'],
  ['\ud83d', 'U+D83D as character 1'],
  ['ab\udc00c', 'U+DC00 as character 3'],
  ['a\u2028', 'U+2028 as character 2'],
  ['a\nb', 'U+000A as character 2'],
])('%j is none: %s', (text, sign) => {
  expect(strangeSign(text, PLAIN_LINE)).toBe(sign);
});

test('notes may have line ends and tabs', () => {
  expect(strangeSign('one\r\n\ttwo', PLAIN_LINES)).toBeNull();
  expect(strangeSign('one\u0000', PLAIN_LINES)).toBe('U+0000 as character 4');
});

test('the fault names the sign, since the text shown would look right', () => {
  expect(lines(changed(['stack[0].name', 'oak\u202e'], ['notes', 'a\u0007\nb']))).toEqual([
    'notes: must be text without control characters, direction overrides, halves of a character; received U+0007 as character 2. Type it anew without that sign.',
    'stack[0].name: must be text without control characters, direction overrides, halves of a character or line ends; received U+202E as character 4. Type it anew without that sign.',
  ]);
});

test('a text of the greatest length is judged at once', () => {
  const start = process.cpuUsage();
  expect(PLAIN_LINES.test('\u0000'.repeat(100_000))).toBe(false);
  expect(PLAIN_LINES.test('a'.repeat(100_000))).toBe(true);
  const { user, system } = process.cpuUsage(start);
  expect((user + system) / 1e6).toBeLessThan(0.5);
});
