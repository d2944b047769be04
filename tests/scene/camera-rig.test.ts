import { describe, expect, test } from 'vitest';
import { CameraRig, cameraBasis, FIELD_OF_VIEW } from '../../src/scene/camera-rig.ts';
import { dot, norm, subtract, type Vec3 } from '../../src/scene/vectors.ts';

const BOX: readonly Vec3[] = [-1, 1].flatMap((x) =>
  [-1, 1].flatMap((y) => [-1, 1].map((z) => [30 * x, 20 * y, 5 * z] as const)),
);

/** Largest distance from the picture's centre, as a fraction of its half-width and half-height. */
function extent(rig: CameraRig, aspect: number): readonly [number, number] {
  const { position, right, up, back } = cameraBasis(rig.state);
  const t = Math.tan(FIELD_OF_VIEW / 2);
  let x = 0;
  let y = 0;
  for (const p of BOX) {
    const d = subtract(p, position);
    const depth = -dot(d, back);
    x = Math.max(x, Math.abs(dot(d, right)) / (depth * t * aspect));
    y = Math.max(y, Math.abs(dot(d, up)) / (depth * t));
  }
  return [x, y];
}

function settled(aspect: number): CameraRig {
  const rig = new CameraRig();
  rig.aspect(aspect);
  rig.subject(BOX);
  return rig;
}

describe('CameraRig', () => {
  test.each([
    ['reset', 1.6],
    ['top', 1.6],
    ['side', 1.6],
    ['reset', 0.5],
    ['top', 3],
  ] as const)(
    '%s at proportions %f: everything inside the picture, and one side close to the margin',
    (name, aspect) => {
      const rig = settled(aspect);
      rig.preset(name);
      rig.advance(1e6);
      const [x, y] = extent(rig, aspect);
      expect(x).toBeLessThanOrEqual(0.84 + 1e-9);
      expect(y).toBeLessThanOrEqual(0.86 + 1e-9);
      expect(Math.max(x / 0.84, y / 0.86)).toBeGreaterThan(0.9);
    },
  );

  test('axes of the picture: the top view has x to the right and y up, the side view x to the right and z up', () => {
    const rig = settled(1.5);
    rig.preset('top');
    rig.advance(1e6);
    const top = cameraBasis(rig.state);
    expect(top.right[0]).toBeCloseTo(1, 12);
    expect(top.up[1]).toBeCloseTo(1, 12);
    expect(top.back[2]).toBeCloseTo(1, 12);
    rig.preset('side');
    rig.advance(1e6);
    const side = cameraBasis(rig.state);
    expect(side.right[0]).toBeCloseTo(1, 12);
    expect(side.up[2]).toBeCloseTo(1, 12);
  });

  test('the axes are orthonormal and right-handed in any direction', () => {
    for (const [azimuth, elevation] of [
      [0.3, 0.4],
      [-2, 1.5707],
      [9, -1.2],
    ] as const) {
      const { right, up, back } = cameraBasis({ azimuth, elevation, distance: 1, target: [0, 0, 0] });
      expect(norm(right)).toBeCloseTo(1, 12);
      expect(norm(up)).toBeCloseTo(1, 12);
      expect(dot(right, up)).toBeCloseTo(0, 12);
      expect(
        right[0] * (up[1] * back[2] - up[2] * back[1]) +
          right[1] * (up[2] * back[0] - up[0] * back[2]) +
          right[2] * (up[0] * back[1] - up[1] * back[0]),
      ).toBeCloseTo(1, 12);
    }
  });

  test('damping does not depend on how time is cut into steps', () => {
    const coarse = settled(1.5);
    const fine = settled(1.5);
    for (const rig of [coarse, fine]) rig.orbit(1, 0.2);
    coarse.advance(100);
    for (let i = 0; i < 50; i++) fine.advance(2);
    expect(fine.state.azimuth).toBeCloseTo(coarse.state.azimuth, 9);
    expect(fine.state.elevation).toBeCloseTo(coarse.state.elevation, 9);
  });

  test('it comes to rest, exactly at its goal, and says so', () => {
    const rig = settled(1.5);
    rig.orbit(0.7, 0);
    let steps = 0;
    while (rig.advance(16) && steps < 200) steps++;
    expect(steps).toBeLessThan(60);
    expect(rig.state).toEqual(rig.goal);
    expect(rig.advance(16)).toBe(false);
  });

  test('without motion it is there at once', () => {
    const rig = settled(1.5);
    rig.instant = true;
    rig.orbit(0.7, 0);
    expect(rig.advance(1)).toBe(false);
    expect(rig.state).toEqual(rig.goal);
  });

  test('it never goes over the poles, nor nearer or further than makes sense', () => {
    const rig = settled(1.5);
    const fitted = rig.goal.distance;
    rig.orbit(0, 99);
    expect(rig.goal.elevation).toBe(Math.PI / 2);
    rig.zoom(1e9);
    expect(rig.goal.distance).toBeCloseTo(fitted / 10, 9);
    rig.zoom(1e-9);
    expect(rig.goal.distance).toBeCloseTo(fitted * 4, 9);
    rig.zoom(0);
    rig.zoom(Number.NaN);
    expect(rig.goal.distance).toBeCloseTo(fitted * 4, 9);
  });

  test('a preset turns the shorter way round', () => {
    const rig = settled(1.5);
    rig.orbit(2 * Math.PI * 3 + 0.1, 0);
    rig.advance(1e6);
    rig.preset('reset');
    expect(Math.abs(rig.goal.azimuth - rig.state.azimuth)).toBeLessThan(0.11);
  });

  test('panning follows the hand: half a picture up brings the target half a picture up', () => {
    const rig = settled(1.5);
    const before = rig.goal;
    rig.pan(0, 0.5);
    const height = 2 * before.distance * Math.tan(FIELD_OF_VIEW / 2);
    const d = subtract(rig.goal.target, before.target);
    expect(dot(d, cameraBasis(before).up)).toBeCloseTo(0.5 * height, 9);
  });

  test('as long as nobody moved it, new proportions fit the subject anew', () => {
    const rig = new CameraRig();
    rig.subject(BOX);
    rig.aspect(2.5);
    expect(rig.state).toEqual(settled(2.5).state);
    rig.preset('top');
    rig.aspect(0.7);
    const other = settled(0.7);
    other.preset('top');
    expect(rig.goal.distance).toBeCloseTo(other.goal.distance, 9);
  });

  test('new proportions keep the zoom; a new subject does not move the camera', () => {
    const rig = settled(1.5);
    rig.zoom(2);
    rig.advance(1e6);
    rig.aspect(0.6);
    const [x] = extent(rig, 0.6);
    expect(x / 2).toBeLessThanOrEqual(0.85);
    const state = rig.state;
    rig.subject(BOX.map(([a, b, c]) => [a * 2, b * 2, c * 2] as const));
    expect(rig.state).toEqual(state);
  });
});
