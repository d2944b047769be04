import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { readJsonText } from '../../src/design/json-text.ts';
import { parseDesignText } from '../../src/design/resolve-text.ts';
import { faultLine } from '../../src/numerics/errors.ts';

function line(text: string): string {
  const result = readJsonText(text);
  return result.ok ? 'fine' : result.faults.map(faultLine).join('\n');
}

describe('where a file is no JSON', () => {
  test.each<[string, string]>([
    ['', 'design: must be a JSON object; received an empty file.'],
    [' \n\t', 'design: must be a JSON object; received an empty file.'],
    [
      '{',
      'design: must be JSON: a key in double quotes is expected at line 1, column 2; received the end of the file.',
    ],
    ['{\n  "a": 1,\n}', 'design: must be JSON: a key in double quotes is expected at line 3, column 1; received "}".'],
    ['{"a": 1 "b": 2}', 'design: must be JSON: "," or "}" is expected at line 1, column 9; received "\\"b\\": 2}".'],
    ['[1, 2', 'design: must be JSON: "," or "]" is expected at line 1, column 6; received the end of the file.'],
    ['{"a": NaN}', 'design: must be JSON: a value is expected at line 1, column 7; received "NaN}".'],
    ['{"a": .5}', 'design: must be JSON: a value is expected at line 1, column 7; received ".5}".'],
    ['{"a": 01}', 'design: must be JSON: "," or "}" is expected at line 1, column 8; received "1}".'],
    ['{"a": 1} x', 'design: must be JSON: the end of the file is expected at line 1, column 10; received "x".'],
    [
      '{ // no\n}',
      'design: must be JSON: a key in double quotes is expected at line 1, column 3; received "// no". JSON has no comments: use "notes".',
    ],
    [
      '{\u0000"\u0000',
      'design: must be JSON: a key in double quotes is expected at line 1, column 2; received "\\\\u{0}\\"\\\\u{0}". Save the file as UTF-8.',
    ],
    ['{"a" 1}', 'design: must be JSON: ":" after the key is expected at line 1, column 6; received "1}".'],
    ['{"a": 1, "a": 2}', 'a: must be given once; received the key twice in one object.'],
    ['{"s": [{"t": 1, "t": 2}]}', 's[0].t: must be given once; received the key twice in one object.'],
    [
      '['.repeat(100),
      'design: must be JSON: nesting of at most 64 levels is expected at line 1, column 66; received "[[[[[[[[[[[[".',
    ],
  ])('%j', (text, wanted) => {
    expect(line(text)).toBe(wanted);
  });

  test('a byte order mark is no fault', () => {
    expect(line('\ufeff{}')).toBe('fine');
  });

  test('a file of a hundred thousand brackets is refused at once', () => {
    expect(line('['.repeat(1e5))).toMatch(/at most 64 levels/);
  });

  test('a file over the limit is refused before it is read', () => {
    expect(line(`{"a":"${'x'.repeat(2_000_000)}"}`)).toMatch(/a file of at most 2000000 characters/);
  });
});

// The engine's own JSON.parse (ECMA-262, ECMA-404) is the independent judge of what is JSON.
test('agrees with JSON.parse on mutated files, and gives the same value (seed 41)', () => {
  const source = JSON.stringify(DEMO_DESIGN, null, 2);
  const mutation = fc.record({
    at: fc.nat(source.length - 1),
    remove: fc.nat(3),
    insert: fc.oneof(
      fc.constant(''),
      fc.string({ maxLength: 3 }),
      fc.constantFrom('"', '{', ']', '\\', '\u0000', '1e', '-'),
    ),
  });
  fc.assert(
    fc.property(fc.array(mutation, { minLength: 1, maxLength: 2 }), (mutations) => {
      let text = source;
      for (const m of mutations) text = text.slice(0, m.at) + m.insert + text.slice(m.at + m.remove);
      let parsed: unknown;
      try {
        parsed = JSON.parse(text);
      } catch {
        parsed = undefined;
      }
      const mine = readJsonText(text);
      const twice = !mine.ok && mine.faults[0].code === 'duplicate-key';
      if (parsed === undefined) expect(mine.ok).toBe(false);
      else if (mine.ok) expect(mine.value).toEqual(parsed);
      else expect(twice).toBe(true);
    }),
    { seed: 41, numRuns: 1500 },
  );
}, 30_000);

test('a design goes from its text to its values', () => {
  const result = parseDesignText(JSON.stringify(DEMO_DESIGN));
  expect(result.ok && result.design.title).toBe(DEMO_DESIGN.title);
  expect(parseDesignText('{').ok).toBe(false);
});
