import { describe, expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import type { HandleValue } from '../../src/scene/types.ts';
import { DesignStore } from '../../src/state/store.ts';
import { runHandle, shapeOf } from '../../src/stations/handle-command.ts';

const run = (change: HandleValue): DesignStore => {
  const store = new DesignStore(DEMO_DESIGN);
  runHandle(store, change, 'start');
  runHandle(store, change, 'move');
  runHandle(store, change, 'end');
  return store;
};

describe('a handle of the 3-D view', () => {
  test('moves the receiver, in millimetres without dust', () => {
    const { placement } = run({ handle: 'offset', x: 0.0061, y: -0.0023 }).design.value;
    expect(placement).toMatchObject({ offsetXMm: 6.1, offsetYMm: -2.3 });
  });
  test('changes gap, yaw and tilts', () => {
    expect(run({ handle: 'gap', value: 0.0081 }).design.value.placement.gapMm).toBeCloseTo(8.1, 9);
    expect(run({ handle: 'yaw', value: Math.PI / 6 }).design.value.placement.yawDeg).toBe(30);
    expect(run({ handle: 'tiltX', value: -Math.PI / 36 }).design.value.placement.tiltXDeg).toBe(-5);
    expect(run({ handle: 'tiltY', value: Math.PI / 60 }).design.value.placement.tiltYDeg).toBe(3);
  });
  test('shapes the coil it belongs to, as one undo step', () => {
    const store = run({ handle: 'transmitterOuter', value: 0.046 });
    expect(store.design.value.transmitter.coil.outline).toMatchObject({ shape: 'circle', outerDiameterMm: 46 });
    expect(store.undoCount.value).toBe(1);
    expect(run({ handle: 'receiverOuterWidth', value: 0.05 }).design.value.receiver.coil.outline).toMatchObject({
      outerWidthMm: 50,
      outerHeightMm: 33,
    });
    expect(run({ handle: 'receiverTurns', value: 12.0000001 }).design.value.receiver.coil.turns).toBe(12);
  });
});

test('only handles that shape a coil have a side and a quantity', () => {
  expect(shapeOf('receiverCornerRadius')).toEqual({ side: 'receiver', quantity: 'outerCornerRadiusMm' });
  expect(shapeOf('yaw')).toBeNull();
});
