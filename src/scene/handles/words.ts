import type { HandleId, HandleValue } from '../types.ts';
import { quantityOf } from './change.ts';

const POSE: Readonly<Record<string, string>> = {
  offset: 'Offset',
  gap: 'Gap',
  yaw: 'Yaw',
  tiltX: 'Tilt about x',
  tiltY: 'Tilt about y',
};
const SHAPE: Readonly<Record<string, string>> = {
  Outer: 'outer diameter',
  Inner: 'inner diameter',
  OuterWidth: 'outer width',
  OuterHeight: 'outer height',
  InnerWidth: 'inner width',
  InnerHeight: 'inner height',
  CornerRadius: 'corner radius',
  Turns: 'turns',
};

/** A handle's name in words, as a screen reader says it. */
export function handleName(handle: HandleId): string {
  const pose = POSE[handle];
  if (pose !== undefined) return pose;
  const side = handle.startsWith('transmitter') ? 'Transmitter' : 'Receiver';
  return `${side} ${SHAPE[handle.slice(side.length)] ?? ''}`;
}

const trim = (value: number, digits: number): string => {
  const rounded = Number(value.toFixed(digits));
  return String(Object.is(rounded, -0) ? 0 : rounded).replace('-', '\u2212');
};

/** A value with its unit, as a screen reader says it. */
export function valueText(value: HandleValue): string {
  if (value.handle === 'offset') return `x ${trim(value.x * 1e3, 2)} mm, y ${trim(value.y * 1e3, 2)} mm`;
  switch (quantityOf(value.handle)) {
    case 'angle':
      return `${trim((value.value * 180) / Math.PI, 1)}°`;
    case 'turns':
      return trim(value.value, 0);
    case 'length':
      return `${trim(value.value * 1e3, 2)} mm`;
  }
}

/** A value as one number for `aria-valuenow`: millimetres, degrees or turns; of an offset, its length. */
export function valueNumber(value: HandleValue): number {
  if (value.handle === 'offset') return Number((Math.hypot(value.x, value.y) * 1e3).toFixed(2));
  const k = quantityOf(value.handle) === 'length' ? 1e3 : quantityOf(value.handle) === 'angle' ? 180 / Math.PI : 1;
  return Number((value.value * k).toFixed(2));
}
