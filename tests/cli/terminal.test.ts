import fc from 'fast-check';
import { expect, test } from 'vitest';
import { guarded, harmless, jsonText } from '../../src/cli/terminal.ts';
import { hostileText, OBEYED } from '../fuzz/support.ts';

test('what a terminal obeys is written out', () => {
  expect(harmless('a\u001b[2Jb')).toBe('a\\u001b[2Jb');
  expect(harmless('\u009b1m\u202e\u0007\r\ud800')).toBe('\\u009b1m\\u202e\\u0007\\u000d\\ud800');
  expect(harmless('line\n\tGröße 12 µm 👍 שלום')).toBe('line\n\tGröße 12 µm 👍 שלום');
});

test('JSON stays the same JSON', () => {
  fc.assert(
    fc.property(hostileText, (text) => {
      const written = harmless(jsonText({ [text]: text }));
      expect(written).not.toMatch(OBEYED);
      // By way of UTF-8, as on a pipe.
      expect(JSON.parse(Buffer.from(written, 'utf8').toString('utf8'))).toEqual({ [text]: text });
    }),
    { seed: 10, numRuns: 500 },
  );
});

test('both streams are guarded', () => {
  const got: string[] = [];
  const terminal = guarded({ out: (text) => got.push(`out ${text}`), err: (text) => got.push(`err ${text}`) });
  terminal.out('\u001b');
  terminal.err('\u001b');
  expect(got).toEqual(['out \\u001b', 'err \\u001b']);
});
