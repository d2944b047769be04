import type { BodyPose } from './types.ts';

/** Rx(tiltX) Ry(tiltY) Rz(yaw), row-major 3 x 3, written to `out`. */
export function rotationOf(pose: Pick<BodyPose, 'yaw' | 'tiltX' | 'tiltY'>, out: Float64Array): Float64Array {
  const cz = Math.cos(pose.yaw);
  const sz = Math.sin(pose.yaw);
  const cy = Math.cos(pose.tiltY);
  const sy = Math.sin(pose.tiltY);
  const cx = Math.cos(pose.tiltX);
  const sx = Math.sin(pose.tiltX);
  out[0] = cy * cz;
  out[1] = -cy * sz;
  out[2] = sy;
  out[3] = cx * sz + sx * sy * cz;
  out[4] = cx * cz - sx * sy * sz;
  out[5] = -sx * cy;
  out[6] = sx * sz - cx * sy * cz;
  out[7] = sx * cz + cx * sy * sz;
  out[8] = cx * cy;
  return out;
}
