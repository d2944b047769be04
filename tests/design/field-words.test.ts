import { describe, expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { entryName, fieldWords, ownerWords, shortLabel, spaced, valueWords } from '../../src/design/field-words.ts';

describe('the words of fields', () => {
  test('leave out what explains them', () => {
    expect(shortLabel("charge voltage; the cell's data sheet comes first")).toBe('charge voltage');
    expect(fieldWords(['receiver', 'coil', 'turns'])).toBe('turns in all');
    // Where the format has no such key, the key itself.
    expect(fieldWords(['placement', 'somethingElseMm'])).toBe('something else');
    expect(spaced('roundedRectangle')).toBe('rounded rectangle');
  });

  test('name entries by name, kind or number, and whose they are', () => {
    expect(entryName({ name: 'oak', kind: 'cell' }, 0)).toBe('oak');
    expect(entryName({ kind: 'boost' }, 0)).toBe('boost converter');
    expect(entryName([1, 2], 1)).toBe('2');
    expect(ownerWords(['charging', 'cell'])).toBe('charging\u2019s cell');
    expect(ownerWords(['away from the dock', 'boost converter'])).toBe('boost converter away from the dock');
    expect(ownerWords([])).toBe('');
  });
});

describe('values in words', () => {
  test.each([
    [5, ['transmitter', 'drive', 'supplyV'], '5 V'],
    [true, ['receiver'], 'yes'],
    [null, ['receiver', 'metal'], 'none'],
    [['charging'], ['demand', 'loads', 1, 'alongside'], 'charging'],
    [[], ['demand', 'loads', 1, 'alongside'], 'none'],
    [DEMO_DESIGN.stack, ['stack'], 'oak, felt, case wall, air'],
    [{ kind: 'solid', diameterMm: 0.4 }, ['receiver', 'coil', 'conductor'], 'solid, diameter of the copper 0.4 mm'],
  ] as const)('%j', (value, at, words) => {
    expect(valueWords(value, [...at])).toBe(words);
  });
});
