import { describe, expect, test } from 'vitest';
import {
  angleDifference,
  arcPoints,
  canFollow,
  type DragRule,
  dragCoordinate,
  type Ray,
} from '../../../src/scene/handles/drag-rule.ts';
import { subtract, unit, type Vec3 } from '../../../src/scene/vectors.ts';

/** A viewer in front, to the right and above. */
const EYE: Vec3 = [0.2, -0.35, 0.25];
const look = (at: Vec3, eye: Vec3 = EYE): Ray => ({ origin: eye, direction: unit(subtract(at, eye)) });

describe('dragCoordinate', () => {
  test('along an axis: pointing at a point of the line gives its distance, times the gain', () => {
    const rule: DragRule = { kind: 'axis', through: [0.02, 0, 0.001], direction: [0, 0, 1], perMetre: 2 };
    const a = dragCoordinate(rule, look([0.02, 0, 0.001]))!;
    const b = dragCoordinate(rule, look([0.02, 0, 0.008]))!;
    expect(a[0]).toBeCloseTo(0, 12);
    expect(b[0] - a[0]).toBeCloseTo(2 * 0.007, 12);
  });

  test('along an axis: a pointer beside the line counts at the nearest point', () => {
    const rule: DragRule = { kind: 'axis', through: [0, 0, 0], direction: [1, 0, 0], perMetre: 1 };
    const ray: Ray = { origin: [0.013, 0.1, 0.3], direction: [0, 0, -1] };
    expect(dragCoordinate(rule, ray)![0]).toBeCloseTo(0.013, 12);
  });

  test('straight along the axis nothing can be told', () => {
    const rule: DragRule = { kind: 'axis', through: [0, 0, 0], direction: [0, 0, 1], perMetre: 1 };
    expect(dragCoordinate(rule, { origin: [0, 0, 1], direction: [0, 0, -1] })).toBeNull();
    expect(canFollow(rule, [0, 0, -1])).toBe(false);
    expect(canFollow(rule, [0, 1, 0])).toBe(true);
  });

  test('in the plane: the point under the pointer', () => {
    const rule: DragRule = { kind: 'plane', through: [0, 0, 0.007] };
    const p = dragCoordinate(rule, look([0.011, -0.004, 0.007]))!;
    expect(p[0]).toBeCloseTo(0.011, 12);
    expect(p[1]).toBeCloseTo(-0.004, 12);
  });

  test('in the plane seen edge-on: only what can be seen, along the picture', () => {
    const rule: DragRule = { kind: 'plane', through: [0.002, 0.001, 0.007] };
    const eye: Vec3 = [0, -1, 0.007];
    const a = dragCoordinate(rule, look([0.002, 0.001, 0.007], eye))!;
    const b = dragCoordinate(rule, look([0.012, 0.001, 0.009], eye))!;
    expect(b[0] - a[0]).toBeCloseTo(0.01, 3);
    expect(b[1] - a[1]).toBeCloseTo(0, 3);
  });

  test('about an axis: pointing at a point of the circle gives its angle', () => {
    const centre: Vec3 = [0.003, 0, 0.007];
    const axis: Vec3 = [0, 0, 1];
    const start: Vec3 = [0, -0.03, 0];
    const rule: DragRule = { kind: 'angle', centre, axis, through: arcPoints(centre, axis, start, 0, 0)[0]! };
    for (const angle of [-1, -0.2, 0.4, 1.3]) {
      const at = arcPoints(centre, axis, start, angle, angle)[0]!;
      expect(dragCoordinate(rule, look(at))![0]).toBeCloseTo(angle, 9);
    }
  });

  test('about an axis seen edge-on: along the tangent, to first order the same angle', () => {
    const rule: DragRule = { kind: 'angle', centre: [0, 0, 0], axis: [0, 0, 1], through: [0, -0.03, 0] };
    const eye: Vec3 = [0, -1, 0];
    const b = dragCoordinate(rule, look([0.003, -0.03, 0], eye))!;
    expect(b[0]).toBeCloseTo(0.1, 2);
    expect(canFollow(rule, [0, 1, 0])).toBe(true);
    expect(canFollow(rule, [1, 0, 0])).toBe(false);
  });
});

describe('angles', () => {
  test('differences come back into half a turn either way', () => {
    expect(angleDifference(3, -3)).toBeCloseTo(6 - 2 * Math.PI, 12);
    expect(angleDifference(Math.PI, 0)).toBe(Math.PI);
    expect(angleDifference(-Math.PI, 0)).toBe(Math.PI);
    expect(angleDifference(0.2 + 8 * Math.PI, 0)).toBeCloseTo(0.2, 9);
  });
});
