import { expect, it } from 'vitest';
import { shareText } from '../../../src/analysis/hold/share-text.ts';

it.each([
  [1, '100 %'],
  [0.99996, '99.99 %'],
  [0.9992, '99.92 %'],
  [0.9951, '99.5 %'],
  [0.9899, '99 %'],
  [0.817, '82 %'],
  [0.051, '5.1 %'],
  [0, '0.0 %'],
])('%f is %s', (share, text) => {
  expect(shareText(share)).toBe(text);
});
