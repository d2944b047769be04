import { describe, expect, test } from 'vitest';
import { defaultText, receivedText, requirementOf } from '../../src/design/describe.ts';
import { choice, flag, length, list, percent, point, quantity, text, whole } from '../../src/design/fields.ts';
import { nodeOf } from '../../src/design/schema-node.ts';

describe('what a field must be, in words', () => {
  test.each([
    [length(0.5, 1000, 'gap'), 'a number from 0.5 to 1000 mm'],
    [whole(1, 20, { label: 'layers', unit: 'count' }), 'a whole number from 1 to 20'],
    [quantity(-60, 60, { label: 'tilt', unit: 'deg' }), 'a number from -60 to 60°'],
    [percent('tolerance'), 'a number from 0 to 100 %'],
    [text(60, 'name', { minimum: 1 }), 'text of 1 to 60 characters'],
    [text(200, 'title'), 'text of at most 200 characters'],
    [choice(['full', 'half'], 'bridge'), 'one of "full", "half"'],
    [flag('regulated'), 'true or false'],
    [list(flag('x'), 1, 8, 'flags'), 'a list of 1 to 8 entries'],
    [point(1000, 'centre'), 'a pair [x, y] of numbers in mm'],
  ])('%#', (schema, words) => {
    expect(requirementOf(nodeOf(schema))).toBe(words);
    expect(defaultText(nodeOf(schema))).toBeNull();
  });
});

test('what came, in words: numbers with the unit, text quoted and cut, structures by their size', () => {
  const gap = nodeOf(length(0.5, 1000, 'gap'));
  expect(receivedText(3, gap)).toBe('3 mm');
  expect(receivedText('3 mm', gap)).toBe('"3 mm"');
  expect(receivedText('x'.repeat(99), null)).toBe(`"${'x'.repeat(40)}..."`);
  expect(receivedText('\u202e', null)).toBe('"\\u{202e}"');
  expect([undefined, null, [], [1], {}, true].map((value) => receivedText(value, null))).toEqual([
    'nothing',
    'null',
    'a list of 0 entries',
    'a list of 1 entry',
    'an object',
    'true',
  ]);
});
