import { expect, test } from 'vitest';
import { lengthWords, rectangleWords } from '../../src/charts/trace-scale-words.ts';

test('the length stands over the middle of its scale', () => {
  expect(lengthWords([100, 400], [300, 400], 0.5, '50 mm')).toEqual([['50 mm', [100, 191], 'middle']]);
});

test('words of a rectangle stand outside it, each beside what it names', () => {
  const corners = [
    [100, 100],
    [300, 100],
    [300, 200],
    [100, 200],
  ] as const;
  const words = rectangleWords(corners, 1, ['85.6 mm', '54 mm']);
  expect(words.map(([text]) => text)).toEqual(['85.6 mm', '54 mm', '1', '2', '3', '4']);
  const [width, height, ...numbers] = words;
  expect(width).toEqual(['85.6 mm', [200, 88], 'middle']);
  expect(height).toEqual(['54 mm', [316, 154], 'start']);
  for (const [i, [, [x, y]]] of numbers.entries()) {
    const [cx, cy] = corners[i as 0];
    expect(Math.hypot(x - cx, y - 4 - cy)).toBeCloseTo(16, 9);
    expect(x > 300 || x < 100).toBe(true);
    expect(y - 4 > 200 || y - 4 < 100).toBe(true);
  }
  // A rectangle of no size has no outside.
  const point = [50, 50] as const;
  for (const [, [x, y]] of rectangleWords([point, point, point, point], 1, ['a', 'b']))
    expect([x, y]).toEqual([50, 54]);
});
