import { describe, expect, test } from 'vitest';
import { dragCoordinate } from '../../../src/scene/handles/drag-rule.ts';
import { handlePlaces } from '../../../src/scene/handles/handle-places.ts';
import { facingOf } from '../../../src/scene/handles/place.ts';
import { gapOf } from '../../../src/scene/handles/pose-places.ts';
import { usablePlaces } from '../../../src/scene/handles/usable.ts';
import { handleName, valueNumber, valueText } from '../../../src/scene/handles/words.ts';
import type { HandleId, LinkSceneData } from '../../../src/scene/types.ts';
import { subtract, unit, type Vec3 } from '../../../src/scene/vectors.ts';
import { demoLink } from '../support/demo-link.ts';

const DEGREE = Math.PI / 180;
const FRONT = facingOf(-58 * DEGREE, 3);

function place(data: LinkSceneData, id: HandleId, facing = FRONT) {
  const found = handlePlaces(data, facing).find((p) => p.id === id);
  if (found === undefined) throw new Error(`no handle ${id}`);
  return found;
}

describe('handlePlaces', () => {
  test('offers what the outlines have, and nothing else', () => {
    const ids = handlePlaces(demoLink(), FRONT).map((p) => p.id);
    expect(ids).toEqual([
      'offset',
      'gap',
      'yaw',
      'tiltX',
      'tiltY',
      'transmitterOuter',
      'transmitterInner',
      'transmitterTurns',
      'receiverOuterWidth',
      'receiverOuterHeight',
      'receiverInnerWidth',
      'receiverInnerHeight',
      'receiverCornerRadius',
      'receiverTurns',
    ]);
    const some = handlePlaces(demoLink({ handles: ['gap', 'offset', 'receiverOuter'] }), FRONT).map((p) => p.id);
    expect(some).toEqual(['offset', 'gap']);
  });

  test('values are those of the design', () => {
    const data = demoLink();
    expect(gapOf(data)).toBeCloseTo(5.9e-3, 12);
    const value = (id: HandleId): number => {
      const v = place(data, id).value;
      return v.handle === 'offset' ? Number.NaN : v.value;
    };
    expect(value('transmitterOuter')).toBe(0.044);
    expect(value('transmitterInner')).toBe(0.0205);
    expect(value('receiverOuterWidth')).toBe(0.046);
    expect(value('receiverInnerHeight')).toBe(0.015);
    expect(value('receiverCornerRadius')).toBe(0.01);
    expect(value('receiverTurns')).toBe(14);
  });

  test('width handles stand on the edge of their coil, also when it lies turned and aside', () => {
    const base = demoLink();
    const data = demoLink({ pose: { ...base.pose, x: 0.006, y: -0.002, yaw: 0.5 } });
    const at = place(data, 'receiverOuterWidth').at;
    // Back into the receiver's own frame (yaw only).
    const dx = at[0] - 0.006;
    const dy = at[1] + 0.002;
    const x = Math.cos(0.5) * dx + Math.sin(0.5) * dy;
    expect(Math.abs(x)).toBeCloseTo(0.023, 12);
    expect(at[2]).toBeCloseTo(data.pose.z, 12);
  });

  test('the yaw handle turns with the receiver, the tilt handles rise with it', () => {
    const base = demoLink();
    const yawed = place(demoLink({ pose: { ...base.pose, yaw: 30 * DEGREE } }), 'yaw').at;
    const still = place(base, 'yaw').at;
    const angle = Math.atan2(yawed[1], yawed[0]) - Math.atan2(still[1], still[0]);
    expect(angle).toBeCloseTo(30 * DEGREE, 9);
    // Tilt about x lifts +y: the handle on the far (+y) side goes up.
    const tilted = place(demoLink({ pose: { ...base.pose, tiltX: 10 * DEGREE } }), 'tiltX').at;
    expect(place(base, 'tiltX').at[1]).toBeGreaterThan(0);
    expect(tilted[2]).toBeGreaterThan(base.pose.z);
    // Tilt about y lowers +x and lifts -x, where this handle stands.
    const other = place(demoLink({ pose: { ...base.pose, tiltY: 10 * DEGREE } }), 'tiltY').at;
    expect(place(base, 'tiltY').at[0]).toBeLessThan(0);
    expect(other[2]).toBeGreaterThan(base.pose.z);
  });

  test('a handle follows the pointer: dragging it to where it would stand gives the value it would have', () => {
    const base = demoLink();
    const eye: Vec3 = [0.12, -0.25, 0.22];
    const ray = (at: Vec3) => ({ origin: eye, direction: unit(subtract(at, eye)) });
    const cases: readonly (readonly [HandleId, LinkSceneData, number])[] = [
      ['gap', demoLink({ pose: { ...base.pose, z: base.pose.z + 0.003 } }), 0.003],
      ['yaw', demoLink({ pose: { ...base.pose, yaw: 0.3 } }), 0.3],
      ['tiltX', demoLink({ pose: { ...base.pose, tiltX: 0.12 } }), 0.12],
      ['tiltY', demoLink({ pose: { ...base.pose, tiltY: -0.12 } }), -0.12],
    ];
    for (const [id, after, change] of cases) {
      const from = place(base, id);
      const to = place(after, id);
      const a = dragCoordinate(from.rule, ray(from.at))!;
      const b = dragCoordinate(from.rule, ray(to.at))!;
      expect(b[0] - a[0], id).toBeCloseTo(change, 9);
    }
  });

  test('a corner handle pulled to the middle of a smaller corner asks for that radius', () => {
    const data = demoLink();
    const corner = place(data, 'receiverCornerRadius');
    const r = 0.004;
    const k = Math.SQRT1_2;
    const target: Vec3 = [0.023 - r + r * k, -(0.0165 - r + r * k), data.pose.z];
    const above = (p: Vec3) => ({ origin: [p[0], p[1], 1] as Vec3, direction: [0, 0, -1] as Vec3 });
    const a = dragCoordinate(corner.rule, above(corner.at))!;
    const b = dragCoordinate(corner.rule, above(target))!;
    expect(0.01 + b[0] - a[0]).toBeCloseTo(r, 9);
  });

  test('the turns handle: a pitch inwards is one more turn in each layer', () => {
    const data = demoLink();
    const turns = place(data, 'transmitterTurns');
    const r = Math.hypot(turns.at[0], turns.at[1]);
    const pitch = data.transmitter.winding.pitchX;
    const k = (r - pitch) / r;
    const above = (p: Vec3) => ({ origin: [p[0], p[1], 1] as Vec3, direction: [0, 0, -1] as Vec3 });
    const a = dragCoordinate(turns.rule, above(turns.at))!;
    const b = dragCoordinate(turns.rule, above([turns.at[0] * k, turns.at[1] * k, 0]))!;
    expect(b[0] - a[0]).toBeCloseTo(1, 9);
  });

  test('handles stand towards the viewer from every side', () => {
    for (let deg = -180; deg < 180; deg += 15) {
      const quarter = (Math.floor(deg / 90) + 4) % 4;
      const facing = facingOf((deg + 0.001) * DEGREE, quarter);
      const view: Vec3 = [Math.cos(deg * DEGREE), Math.sin(deg * DEGREE), 0];
      const outer = place(demoLink(), 'transmitterOuter', facing).at;
      expect(outer[0] * view[0] + outer[1] * view[1]).toBeGreaterThan(0);
      const right: Vec3 = [-view[1], view[0], 0];
      const gap = place(demoLink(), 'gap', facing).at;
      expect(gap[0] * right[0] + gap[1] * right[1]).toBeGreaterThan(0.02);
    }
  });
});

describe('usablePlaces', () => {
  test('from the top the gap and the tilts cannot be followed, the offset and the widths can', () => {
    const places = handlePlaces(demoLink(), FRONT);
    const flat = (p: Vec3) => ({ x: p[0] * 1e4, y: -p[1] * 1e4, seen: true });
    const usable = usablePlaces(places, [0, 0, -1], flat, null);
    const of = (id: HandleId) => usable[places.findIndex((p) => p.id === id)];
    expect(of('gap')).toBe(false);
    expect(of('tiltX')).toBe(false);
    expect(of('offset')).toBe(true);
    expect(of('yaw')).toBe(true);
    expect(of('transmitterOuter')).toBe(true);
  });

  test('of two that coincide the first stays, unless the other is attended', () => {
    const places = handlePlaces(demoLink(), FRONT);
    const heap = () => ({ x: 5, y: 5, seen: true });
    const none = usablePlaces(places, unit([1, 2, -1]), heap, null);
    expect(places.filter((p, i) => none[i] && p.offered === 'rest').map((p) => p.id)).toEqual(['offset']);
    const yaw = usablePlaces(places, unit([1, 2, -1]), heap, 'yaw');
    expect(yaw[places.findIndex((p) => p.id === 'yaw')]).toBe(true);
  });
});

describe('words', () => {
  test('names and values as they are read out', () => {
    expect(handleName('offset')).toBe('Offset');
    expect(handleName('receiverCornerRadius')).toBe('Receiver corner radius');
    expect(handleName('transmitterOuter')).toBe('Transmitter outer diameter');
    expect(valueText({ handle: 'offset', x: 0.003, y: -0.0005 })).toBe('x 3 mm, y \u22120.5 mm');
    expect(valueText({ handle: 'gap', value: 0.0059 })).toBe('5.9 mm');
    expect(valueText({ handle: 'yaw', value: -15 * DEGREE })).toBe('\u221215°');
    expect(valueText({ handle: 'tiltX', value: -1e-9 })).toBe('0°');
    expect(valueText({ handle: 'receiverTurns', value: 14 })).toBe('14');
    expect(valueNumber({ handle: 'offset', x: 0.003, y: 0.004 })).toBe(5);
    expect(valueNumber({ handle: 'yaw', value: 0.5 })).toBeCloseTo(28.65, 2);
  });
});
