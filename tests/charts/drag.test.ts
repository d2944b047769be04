import { expect, test } from 'vitest';
import { arrowStep, rounded } from '../../src/charts/drag.ts';

const press = (key: string, more: Partial<KeyboardEvent> = {}): KeyboardEvent =>
  ({ key, altKey: false, ctrlKey: false, metaKey: false, shiftKey: false, ...more }) as KeyboardEvent;

test('arrows step, with Shift finely, Page keys coarsely; other keys do nothing', () => {
  expect(arrowStep(press('ArrowRight'), 0.5, 0.1, 5)).toEqual([0.5, 0]);
  expect(arrowStep(press('ArrowUp'), 0.5, 0.1, 5)).toEqual([0, 0.5]);
  expect(arrowStep(press('ArrowLeft', { shiftKey: true }), 0.5, 0.1, 5)).toEqual([-0.1, 0]);
  expect(arrowStep(press('PageDown'), 0.5, 0.1, 5)).toEqual([0, -5]);
  expect(arrowStep(press('a'), 0.5, 0.1, 5)).toBeNull();
  expect(arrowStep(press('ArrowUp', { ctrlKey: true }), 0.5, 0.1, 5)).toBeNull();
});

test('rounding leaves no dust', () => {
  expect(rounded(0.30000000000000004, 0.1)).toBe(0.3);
  expect(rounded(-0.04, 0.1)).toBe(0);
  expect(Object.is(rounded(-0.04, 0.1), 0)).toBe(true);
  expect(rounded(7.26, 0.5)).toBe(7.5);
});
