import type { HandleId, HandleValue, Side } from '../scene/types.ts';
import type { GesturePhase } from '../state/command.ts';
import { moveReceiver } from '../state/commands/move-receiver.ts';
import { type CoilQuantity, setCoil } from '../state/commands/set-coil.ts';
import { setGap } from '../state/commands/set-gap.ts';
import { turnReceiver } from '../state/commands/turn-receiver.ts';
import type { DesignStore } from '../state/store.ts';

const QUANTITIES: Readonly<Record<string, CoilQuantity>> = Object.freeze({
  Outer: 'outerDiameterMm',
  Inner: 'innerDiameterMm',
  OuterWidth: 'outerWidthMm',
  OuterHeight: 'outerHeightMm',
  InnerWidth: 'innerWidthMm',
  InnerHeight: 'innerHeightMm',
  CornerRadius: 'outerCornerRadiusMm',
  Turns: 'turns',
});

/** Side and quantity of a handle that shapes a coil; null for one that moves the receiver. */
export function shapeOf(handle: HandleId): { readonly side: Side; readonly quantity: CoilQuantity } | null {
  const found = /^(transmitter|receiver)(\w+)$/.exec(handle);
  return found ? { side: found[1] as Side, quantity: QUANTITIES[found[2]] } : null;
}

/** Without the dust of the conversion from metres or radians. */
function tidy(value: number): number {
  return Number(value.toFixed(4)) + 0;
}

const toMm = (metres: number): number => tidy(metres * 1000);
const toDeg = (radians: number): number => tidy((radians * 180) / Math.PI);

/** What a handle of the 3-D view does to the design. */
export function runHandle(store: DesignStore, change: HandleValue, phase: GesturePhase): void {
  if (change.handle === 'offset') {
    store.run(moveReceiver, { xMm: toMm(change.x), yMm: toMm(change.y) }, phase);
    return;
  }
  const shape = shapeOf(change.handle);
  if (shape) {
    const value = shape.quantity === 'turns' ? Math.round(change.value) : toMm(change.value);
    store.run(setCoil, { ...shape, value }, phase);
  } else if (change.handle === 'gap') store.run(setGap, { gapMm: toMm(change.value) }, phase);
  else if (change.handle === 'yaw') store.run(turnReceiver, { yawDeg: toDeg(change.value) }, phase);
  else if (change.handle === 'tiltX') store.run(turnReceiver, { tiltXDeg: toDeg(change.value) }, phase);
  else store.run(turnReceiver, { tiltYDeg: toDeg(change.value) }, phase);
}
