import type { Pose } from '../physics/coil/types.ts';

/** A point or direction, x y z. */
export type Vec3 = readonly [number, number, number];

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const subtract = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vec3, k: number): Vec3 => [a[0] * k, a[1] * k, a[2] * k];
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const norm = (a: Vec3): number => Math.hypot(a[0], a[1], a[2]);

/** The direction of a; the zero vector stays zero. */
export function unit(a: Vec3): Vec3 {
  const l = norm(a);
  return l > 0 ? scale(a, 1 / l) : a;
}

/** The rotation Rx(tiltX) Ry(tiltY) Rz(yaw) of a pose as nine numbers, row-major. */
export function poseRotation(pose: Pick<Pose, 'yaw' | 'tiltX' | 'tiltY'>): Float64Array {
  const cz = Math.cos(pose.yaw);
  const sz = Math.sin(pose.yaw);
  const cx = Math.cos(pose.tiltX);
  const sx = Math.sin(pose.tiltX);
  const cy = Math.cos(pose.tiltY);
  const sy = Math.sin(pose.tiltY);
  // Ry Rz first, then Rx on its left.
  const m = [cy * cz, -cy * sz, sy, sz, cz, 0, -sy * cz, sy * sz, cy];
  return Float64Array.from([
    m[0]!,
    m[1]!,
    m[2]!,
    cx * m[3]! - sx * m[6]!,
    cx * m[4]! - sx * m[7]!,
    cx * m[5]! - sx * m[8]!,
    sx * m[3]! + cx * m[6]!,
    sx * m[4]! + cx * m[7]!,
    sx * m[5]! + cx * m[8]!,
  ]);
}

/** A direction in the receiver's frame, seen from the transmitter's. */
export function rotate(rotation: Float64Array, p: Vec3): Vec3 {
  const r = rotation;
  return [
    r[0]! * p[0] + r[1]! * p[1] + r[2]! * p[2],
    r[3]! * p[0] + r[4]! * p[1] + r[5]! * p[2],
    r[6]! * p[0] + r[7]! * p[1] + r[8]! * p[2],
  ];
}

/** A receiver point in the transmitter's frame: Rx Ry Rz p + (x, y, z). */
export function fromReceiver(pose: Pose, p: Vec3): Vec3 {
  return add(rotate(poseRotation(pose), p), [pose.x, pose.y, pose.z]);
}
