import { expect, test } from 'vitest';
import { Lru } from '../../src/analysis/lru.ts';

test('keeps the entries last used and drops the one unused longest', () => {
  const cache = new Lru<number>(2);
  cache.set('a', 1);
  cache.set('b', 2);
  expect(cache.get('a')).toBe(1);
  cache.set('c', 3);
  expect([cache.get('a'), cache.get('b'), cache.get('c')]).toEqual([1, undefined, 3]);
});

test('makes a value once, until it is dropped or deleted', () => {
  const cache = new Lru<number>(1);
  let made = 0;
  const make = (): number => ++made;
  expect([cache.obtain('a', make), cache.obtain('a', make)]).toEqual([1, 1]);
  cache.obtain('b', make);
  expect(cache.obtain('a', make)).toBe(3);
  cache.delete('a');
  expect(cache.obtain('a', make)).toBe(4);
});
