import { expect, test } from 'vitest';
import { worthOf } from '../../../src/analysis/prove/reading-worth.ts';

test('a next reading is worth what it narrows, or else what it fixes', () => {
  const reading = { kind: 'frequency', sentence: 'Read it.', leaves: 0.18 } as const;
  expect(worthOf({ ...reading, narrowing: 0.123 })).toBe('narrows the reach by 12 %');
  expect(worthOf({ ...reading, narrowing: 0.012 })).toBe(
    'hardly narrows the reach; of the width of what it reads 18 % would be left',
  );
});
