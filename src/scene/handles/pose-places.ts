import { coilExtent, slabLevels } from '../stack-levels.ts';
import type { LinkSceneData, PoseHandle } from '../types.ts';
import { add, poseRotation, rotate, scale, type Vec3 } from '../vectors.ts';
import { arcPoints } from './drag-rule.ts';
import type { Facing, HandlePlace } from './place.ts';

/** Clear distances of handles from what they belong to, m. */
const BESIDE = 0.0065;
const ROUND = 0.0045;
const DEGREE = Math.PI / 180;

/** Gap as the design has it: clear distance between the facing conductor surfaces. */
export function gapOf(data: Pick<LinkSceneData, 'transmitter' | 'receiver' | 'pose'>): number {
  return data.pose.z - data.transmitter.winding.halfThickness - data.receiver.winding.halfThickness;
}

/** The handles that move the receiver. */
export function posePlaces(data: LinkSceneData, facing: Facing): readonly HandlePlace[] {
  const { x, y, z, yaw, tiltX, tiltY } = data.pose;
  const centre: Vec3 = [x, y, z];
  const own = coilExtent(data.receiver);
  const [fx, fy] = facing.front;
  const [rx, ry] = facing.right;
  const pose = (
    id: PoseHandle,
    rest: Pick<HandlePlace, 'at' | 'rule' | 'value' | 'guides' | 'labels'>,
  ): HandlePlace => ({ id, side: 'receiver', offered: 'rest', ...rest });

  // Offset: at the receiver's centre, with the way there from the transmitter's axis.
  const foot: Vec3 = [0, 0, z];
  const bend: Vec3 = [x, 0, z];
  const away = Math.hypot(x, y) > 5e-5 ? 'rest' : 'active';
  const offset = pose('offset', {
    at: centre,
    rule: { kind: 'plane', through: centre },
    value: { handle: 'offset', x, y },
    guides: [
      { kind: 'axis', when: away, points: [[0, 0, 0], foot] },
      { kind: 'extension', when: away, points: [foot, bend, centre] },
    ],
    labels: [
      { id: 'offsetX', at: add(centre, [0, 0, 0]), toward: [fx - rx, fy - ry, 0], when: away },
      { id: 'offsetY', at: add(centre, [0, 0, 0]), toward: [fx + rx, fy + ry, 0], when: away },
    ],
  });

  // Gap: a dimension to the right of everything.
  const edge = Math.max(
    ...slabLevels(data).map((level) =>
      level.outline.shape === 'roundedRectangle'
        ? Math.abs(rx) * (level.outline.width / 2) + Math.abs(ry) * (level.outline.height / 2)
        : 0,
    ),
    Math.abs(rx) * coilExtent(data.transmitter).x + Math.abs(ry) * coilExtent(data.transmitter).y,
    Math.abs(rx) * (own.x + Math.abs(x)) + Math.abs(ry) * (own.y + Math.abs(y)),
  );
  const low = data.transmitter.winding.halfThickness;
  const high = low + gapOf(data);
  const at = (distance: number, height: number): Vec3 => [rx * distance, ry * distance, height];
  const line = edge + BESIDE;
  const gap = pose('gap', {
    at: at(line, high),
    rule: { kind: 'axis', through: at(line, high), direction: [0, 0, 1], perMetre: 1 },
    value: { handle: 'gap', value: gapOf(data) },
    guides: [
      { kind: 'dimension', when: 'rest', points: [at(line, low), at(line, high)] },
      { kind: 'extension', when: 'rest', points: [at(edge + 0.001, low), at(line + 0.0015, low)] },
      { kind: 'extension', when: 'rest', points: [at(edge + 0.001, high), at(line + 0.0015, high)] },
    ],
    labels: [{ id: 'gap', at: at(line, (low + high) / 2), toward: [rx, ry, 0], when: 'rest' }],
  });

  // Yaw: on a circle about the receiver, on its near side.
  const flat = poseRotation({ yaw: 0, tiltX, tiltY });
  const up = rotate(flat, [0, 0, 1]);
  const zero = Math.atan2(fy, fx);
  const radius = Math.hypot(own.x, own.y) + ROUND;
  const start = rotate(flat, [radius * Math.cos(zero), radius * Math.sin(zero), 0]);
  const onCircle = (a: number): Vec3 => arcPoints(centre, up, start, a, a)[0]!;
  const turned = pose('yaw', {
    at: onCircle(yaw),
    rule: { kind: 'angle', centre, axis: up, through: onCircle(yaw) },
    value: { handle: 'yaw', value: yaw },
    guides: [
      { kind: 'turn', when: 'rest', points: arcPoints(centre, up, start, yaw - 8 * DEGREE, yaw + 8 * DEGREE) },
      {
        kind: 'arc',
        when: 'active',
        points: arcPoints(centre, up, start, Math.min(0, yaw) - 24 * DEGREE, Math.max(0, yaw) + 24 * DEGREE),
      },
      { kind: 'extension', when: 'active', points: [centre, onCircle(0)] },
      { kind: 'extension', when: 'active', points: [centre, onCircle(yaw)] },
    ],
    labels: [
      {
        id: 'yaw',
        at: onCircle(yaw),
        toward: add(onCircle(yaw), scale(centre, -1)),
        when: Math.abs(yaw) > 1e-4 ? 'rest' : 'active',
      },
    ],
  });

  // Tilt: one handle on the far side, one on the left, each on the circle it moves along.
  const tilt = (id: 'tiltX' | 'tiltY'): HandlePlace => {
    const aboutX = id === 'tiltX';
    const value = aboutX ? tiltX : tiltY;
    const sign = aboutX ? -(fy !== 0 ? fy : ry) : -(fx !== 0 ? fx : rx);
    const arm = (aboutX ? own.y : own.x) + ROUND + 0.002;
    const axis: Vec3 = aboutX ? [1, 0, 0] : rotate(poseRotation({ yaw: 0, tiltX, tiltY: 0 }), [0, 1, 0]);
    const level = poseRotation(aboutX ? { yaw: 0, tiltX: 0, tiltY: 0 } : { yaw: 0, tiltX, tiltY: 0 });
    const from = rotate(level, aboutX ? [0, sign * arm, 0] : [sign * arm, 0, 0]);
    const on = (a: number): Vec3 => arcPoints(centre, axis, from, a, a)[0]!;
    return pose(id, {
      at: on(value),
      rule: { kind: 'angle', centre, axis, through: on(value) },
      value: { handle: id, value },
      guides: [
        { kind: 'turn', when: 'rest', points: arcPoints(centre, axis, from, value - 7 * DEGREE, value + 7 * DEGREE) },
        {
          kind: 'arc',
          when: 'active',
          points: arcPoints(centre, axis, from, Math.min(0, value) - 14 * DEGREE, Math.max(0, value) + 14 * DEGREE),
        },
        { kind: 'extension', when: 'active', points: [centre, on(0)] },
      ],
      labels: [
        {
          id,
          at: on(value),
          toward: add(on(value), scale(centre, -1)),
          when: Math.abs(value) > 1e-4 ? 'rest' : 'active',
        },
      ],
    });
  };
  return [offset, gap, turned, tilt('tiltX'), tilt('tiltY')];
}
