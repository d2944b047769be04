import { Matrix4, Vector3 } from 'three';
import { describe, expect, test } from 'vitest';
import { fromReceiver, poseRotation, rotate, unit } from '../../src/scene/vectors.ts';

describe('pose', () => {
  test('Rx(tiltX) Ry(tiltY) Rz(yaw), as the design says; against the matrices of three.js', () => {
    for (const [tiltX, tiltY, yaw] of [
      [0, 0, 0.7],
      [0.3, 0, 0],
      [0, -0.4, 0],
      [0.2, -0.5, 1.9],
    ] as const) {
      const other = new Matrix4()
        .makeRotationX(tiltX)
        .multiply(new Matrix4().makeRotationY(tiltY))
        .multiply(new Matrix4().makeRotationZ(yaw));
      const p = new Vector3(0.01, -0.02, 0.003);
      const ours = fromReceiver({ x: 0.001, y: 0.002, z: 0.007, yaw, tiltX, tiltY }, [0.01, -0.02, 0.003]);
      p.applyMatrix4(other).add(new Vector3(0.001, 0.002, 0.007));
      expect(ours[0]).toBeCloseTo(p.x, 14);
      expect(ours[1]).toBeCloseTo(p.y, 14);
      expect(ours[2]).toBeCloseTo(p.z, 14);
    }
  });

  test('a yaw turns x towards y; a tilt about x lifts y; a tilt about y lowers x', () => {
    const small = 0.1;
    expect(rotate(poseRotation({ yaw: small, tiltX: 0, tiltY: 0 }), [1, 0, 0])[1]).toBeCloseTo(Math.sin(small), 14);
    expect(rotate(poseRotation({ yaw: 0, tiltX: small, tiltY: 0 }), [0, 1, 0])[2]).toBeCloseTo(Math.sin(small), 14);
    expect(rotate(poseRotation({ yaw: 0, tiltX: 0, tiltY: small }), [1, 0, 0])[2]).toBeCloseTo(-Math.sin(small), 14);
  });

  test('the zero vector has no direction', () => {
    expect(unit([0, 0, 0])).toEqual([0, 0, 0]);
  });
});
