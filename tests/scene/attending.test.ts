import { expect, test } from 'vitest';
import { Attending, sideOf } from '../../src/scene/attending.ts';
import { Listeners } from '../../src/scene/listeners.ts';

test('what is attended to: the held handle before the one under the pointer, that before the coil chosen', () => {
  const attending = new Attending();
  expect(attending.shown([], null)).toEqual({ side: null, selected: null, held: null, handle: null });
  expect(attending.select('receiver')).toBe(true);
  expect(attending.select('receiver')).toBe(false);
  expect(attending.shown([], null).side).toBe('receiver');
  expect(attending.point({ kind: 'winding', side: 'transmitter', turn: 0 })).toBe(true);
  expect(attending.point({ kind: 'winding', side: 'transmitter', turn: 0 })).toBe(false);
  expect(attending.shown([], null)).toMatchObject({ side: 'transmitter', selected: 'receiver' });
  expect(sideOf({ kind: 'slab', index: 0 })).toBeNull();
});

test('listeners hear their own event until they are removed', () => {
  const listeners = new Listeners<{ moved: number; left: undefined }>();
  const heard: unknown[] = [];
  const remove = listeners.on('moved', (at) => heard.push(at));
  listeners.on('left', () => heard.push('left'));
  listeners.tell('moved', 3);
  remove();
  listeners.tell('moved', 4);
  listeners.tell('left', undefined);
  listeners.clear();
  listeners.tell('left', undefined);
  expect(heard).toEqual([3, 'left']);
});
