import { describe, expect, it } from 'vitest';
import { rotationOf } from '../../../src/physics/magnet/rotation.ts';

const turn = (yaw: number, tiltX: number, tiltY: number) => rotationOf({ yaw, tiltX, tiltY }, new Float64Array(9));
const apply = (m: Float64Array, v: number[]) => [0, 3, 6].map((r) => m[r] * v[0] + m[r + 1] * v[1] + m[r + 2] * v[2]);

describe('rotationOf', () => {
  it('is Rx Ry Rz: yaw first, then tilt about y, then about x (design.md, words)', () => {
    const quarter = Math.PI / 2;
    const near = (found: number[], wanted: number[]) => {
      for (const [k, v] of found.entries()) expect(v).toBeCloseTo(wanted[k], 12);
    };
    near(apply(turn(quarter, 0, 0), [1, 0, 0]), [0, 1, 0]);
    near(apply(turn(0, quarter, 0), [0, 1, 0]), [0, 0, 1]);
    near(apply(turn(0, 0, quarter), [0, 0, 1]), [1, 0, 0]);
    // x by yaw to y, unmoved by the tilt about y, by the tilt about x to z.
    near(apply(turn(quarter, quarter, quarter), [1, 0, 0]), [0, 0, 1]);
  });
  it('keeps lengths and handedness', () => {
    const m = turn(0.3, -0.7, 1.1);
    const [x, y, z] = [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ].map((v) => apply(m, v));
    expect(Math.hypot(...x)).toBeCloseTo(1, 12);
    expect(x[1] * y[2] - x[2] * y[1]).toBeCloseTo(z[0], 12);
    expect(x[0] * y[0] + x[1] * y[1] + x[2] * y[2]).toBeCloseTo(0, 12);
  });
});
