import type { AnchorId, HandleId, HandleValue, LinkSceneData } from '../types.ts';
import { angleDifference } from './drag-rule.ts';

export type Quantity = 'length' | 'angle' | 'turns';

/** What a handle's value is. */
export function quantityOf(handle: HandleId | AnchorId): Quantity {
  if (handle === 'yaw' || handle === 'tiltX' || handle === 'tiltY') return 'angle';
  return handle.endsWith('Turns') ? 'turns' : 'length';
}

const DEGREE = Math.PI / 180;
/** Whole millimetres and 5 degrees; with Shift or Alt a hundredth of a millimetre and a tenth of a degree. */
const SNAP: Readonly<Record<Quantity, { readonly snapped: number; readonly free: number }>> = {
  length: { snapped: 1e-3, free: 1e-5 },
  angle: { snapped: 5 * DEGREE, free: 0.1 * DEGREE },
  turns: { snapped: 1, free: 1 },
};
/** Keyboard: a plain step goes to the next mark; with Shift it is a tenth of one, with Page keys five. */
const FINE: Readonly<Record<Quantity, number>> = { length: 1e-4, angle: 0.5 * DEGREE, turns: 1 };

type Limits = LinkSceneData['limits'];

function bounded(id: AnchorId, value: number, limits: Limits): number {
  const limit = limits?.[id];
  const natural = id === 'offsetX' || id === 'offsetY' || quantityOf(id) === 'angle' ? -Infinity : 0;
  const least = quantityOf(id) === 'turns' ? 1 : natural;
  return Math.min(limit?.max ?? Infinity, Math.max(limit?.min ?? least, value));
}

/** A multiple of `step`, without the dust of binary fractions (5.9e-3, not 5.8999999999999999e-3 by other roads). */
function toMultiple(value: number, step: number): number {
  const n = Math.round(value / step);
  const inverse = Math.round(1 / step);
  return Math.abs(inverse * step - 1) < 1e-9 ? n / inverse : n * step;
}

/** The value after a drag, rounded to the marks and kept within bounds. Bounds win over marks. */
export function settle(value: HandleValue, free: boolean, limits: Limits): HandleValue {
  const one = (id: AnchorId, v: number): number => {
    const q = quantityOf(id);
    return bounded(id, toMultiple(v, free ? SNAP[q].free : SNAP[q].snapped), limits);
  };
  if (value.handle === 'offset') return { handle: 'offset', x: one('offsetX', value.x), y: one('offsetY', value.y) };
  return { handle: value.handle, value: one(value.handle, value.value) };
}

/** The value moved by a drag: `from` and `to` are drag coordinates at the grab and now. */
export function moved(start: HandleValue, from: readonly [number, number], to: readonly [number, number]): HandleValue {
  if (start.handle === 'offset')
    return { handle: 'offset', x: start.x + to[0] - from[0], y: start.y + to[1] - from[1] };
  if (quantityOf(start.handle) === 'angle') {
    const sum = start.value + angleDifference(to[0], from[0]);
    return { handle: start.handle, value: start.handle === 'yaw' ? angleDifference(sum, 0) : sum };
  }
  return { handle: start.handle, value: start.value + to[0] - from[0] };
}

/** The next mark above or below: 5.9 goes to 6, 6 to 7. */
function nextMark(value: number, step: number, count: number): number {
  const n = value / step;
  const near = count > 0 ? Math.floor(n + 1e-6) : Math.ceil(n - 1e-6);
  return toMultiple((near + count) * step, step);
}

export interface KeyStroke {
  readonly key: string;
  readonly shiftKey: boolean;
}

/** Directions of the four arrows for each axis: right and up raise. */
const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowRight: [1, 0],
  ArrowLeft: [-1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/**
 * The value after a key, or null where the key means nothing to the handle. Arrows step to the next mark, with Shift a
 * tenth of it; Page Up and Page Down five marks; Home brings offset and angles back to zero.
 */
export function stepped(value: HandleValue, stroke: KeyStroke, limits: Limits): HandleValue | null {
  const { key, shiftKey } = stroke;
  const arrow = ARROWS[key];
  const page = key === 'PageUp' ? 5 : key === 'PageDown' ? -5 : 0;
  const one = (id: AnchorId, v: number, count: number): number => {
    if (count === 0) return v;
    const q = quantityOf(id);
    return bounded(id, nextMark(v, shiftKey ? FINE[q] : SNAP[q].snapped, count), limits);
  };
  if (value.handle === 'offset') {
    if (key === 'Home') return { handle: 'offset', x: 0, y: 0 };
    if (arrow !== undefined)
      return { handle: 'offset', x: one('offsetX', value.x, arrow[0]), y: one('offsetY', value.y, arrow[1]) };
    return page === 0 ? null : { handle: 'offset', x: value.x, y: one('offsetY', value.y, page) };
  }
  if (key === 'Home' && quantityOf(value.handle) === 'angle') return { handle: value.handle, value: 0 };
  const count = arrow === undefined ? page : arrow[0] + arrow[1];
  return count === 0 ? null : { handle: value.handle, value: one(value.handle, value.value, count) };
}

/** Whether two values are the same to what can be drawn. */
export function sameValue(a: HandleValue, b: HandleValue): boolean {
  if (a.handle === 'offset') return b.handle === 'offset' && a.x === b.x && a.y === b.y;
  return b.handle === a.handle && b.value === a.value;
}
