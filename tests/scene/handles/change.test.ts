import { describe, expect, test } from 'vitest';
import { moved, sameValue, settle, stepped } from '../../../src/scene/handles/change.ts';
import type { HandleValue } from '../../../src/scene/types.ts';

const DEGREE = Math.PI / 180;
const gap = (value: number): HandleValue => ({ handle: 'gap', value });
const yaw = (value: number): HandleValue => ({ handle: 'yaw', value });
const key = (name: string, shiftKey = false) => ({ key: name, shiftKey });

describe('settle', () => {
  test('goes to whole millimetres, 5 degrees and whole turns', () => {
    expect(settle(gap(0.00637), false, undefined)).toEqual(gap(0.006));
    expect(settle({ handle: 'offset', x: 0.0034, y: -0.0026 }, false, undefined)).toEqual({
      handle: 'offset',
      x: 0.003,
      y: -0.003,
    });
    const turned = settle(yaw(13 * DEGREE), false, undefined);
    expect(turned.handle === 'yaw' && turned.value / DEGREE).toBeCloseTo(15, 9);
    expect(settle({ handle: 'receiverTurns', value: 13.6 }, false, undefined)).toEqual({
      handle: 'receiverTurns',
      value: 14,
    });
  });

  test('free: a hundredth of a millimetre, a tenth of a degree; turns stay whole', () => {
    expect(settle(gap(0.0063712), true, undefined)).toEqual(gap(0.00637));
    const turned = settle(yaw(13.234 * DEGREE), true, undefined);
    expect(turned.handle === 'yaw' && turned.value / DEGREE).toBeCloseTo(13.2, 9);
    expect(settle({ handle: 'transmitterTurns', value: 10.4 }, true, undefined)).toEqual({
      handle: 'transmitterTurns',
      value: 10,
    });
  });

  test('keeps to bounds, which win over marks; gaps and widths never go below zero, turns never below one', () => {
    expect(settle(gap(0.0123), false, { gap: { max: 0.0094 } })).toEqual(gap(0.0094));
    expect(settle(gap(-0.004), false, undefined)).toEqual(gap(0));
    expect(settle({ handle: 'transmitterOuter', value: -1 }, false, undefined)).toEqual({
      handle: 'transmitterOuter',
      value: 0,
    });
    expect(settle({ handle: 'receiverTurns', value: -3 }, false, undefined)).toEqual({
      handle: 'receiverTurns',
      value: 1,
    });
    expect(settle({ handle: 'offset', x: -0.02, y: 0 }, false, { offsetX: { min: -0.0155 } })).toEqual({
      handle: 'offset',
      x: -0.0155,
      y: 0,
    });
  });

  test('marks are the plain decimals, without binary dust', () => {
    for (let i = 0; i <= 200; i++) expect(settle(gap(i * 1e-3 + 2e-4), false, undefined)).toEqual(gap(i / 1000));
    for (let i = 0; i <= 2000; i++) expect(settle(gap(i * 1e-5), true, undefined)).toEqual(gap(i / 1e5));
  });
});

describe('moved', () => {
  test('adds what the pointer moved', () => {
    expect(moved(gap(0.005), [0.1, 0], [0.102, 0])).toEqual(gap(0.005 + 0.102 - 0.1));
    expect(moved({ handle: 'offset', x: 0.001, y: 0 }, [0, 0], [0.002, -0.001])).toEqual({
      handle: 'offset',
      x: 0.003,
      y: -0.001,
    });
  });

  test('yaw passes through half a turn without a jump', () => {
    const now = moved(yaw(3.1), [3.1, 0], [-3.1, 0]);
    expect(now.handle === 'yaw' && now.value).toBeCloseTo(3.1 + (2 * Math.PI - 6.2) - 2 * Math.PI, 9);
  });
});

describe('stepped', () => {
  test('arrows go to the next mark: 5.9 to 6 or 5; with Shift a tenth', () => {
    expect(stepped(gap(0.0059), key('ArrowUp'), undefined)).toEqual(gap(0.006));
    expect(stepped(gap(0.0059), key('ArrowDown'), undefined)).toEqual(gap(0.005));
    expect(stepped(gap(0.0059), key('ArrowRight', true), undefined)).toEqual(gap(0.006));
    expect(stepped(gap(0.0059), key('ArrowLeft', true), undefined)).toEqual(gap(0.0058));
    expect(stepped(gap(0.006), key('PageUp'), undefined)).toEqual(gap(0.011));
  });

  test('an offset has both axes', () => {
    const start: HandleValue = { handle: 'offset', x: 0.002, y: 0 };
    expect(stepped(start, key('ArrowLeft'), undefined)).toEqual({ handle: 'offset', x: 0.001, y: 0 });
    expect(stepped(start, key('ArrowUp'), undefined)).toEqual({ handle: 'offset', x: 0.002, y: 0.001 });
    expect(stepped(start, key('Home'), undefined)).toEqual({ handle: 'offset', x: 0, y: 0 });
  });

  test('Home is zero for angles and means nothing to a width; other keys mean nothing', () => {
    expect(stepped(yaw(0.3), key('Home'), undefined)).toEqual(yaw(0));
    expect(stepped({ handle: 'transmitterOuter', value: 0.044 }, key('Home'), undefined)).toBeNull();
    expect(stepped(gap(0.005), key('a'), undefined)).toBeNull();
  });

  test('there and back again is where it was', () => {
    let value: HandleValue = gap(0.007);
    for (let i = 0; i < 12; i++) value = stepped(value, key('ArrowUp'), undefined)!;
    for (let i = 0; i < 12; i++) value = stepped(value, key('ArrowDown'), undefined)!;
    expect(sameValue(value, gap(0.007))).toBe(true);
  });
});
