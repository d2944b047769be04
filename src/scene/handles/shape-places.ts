import type { CoilOutline } from '../../physics/coil/types.ts';
import { drawnDiameter } from '../build/winding-mesh.ts';
import type { LinkSceneData, ShapeHandle, ShapeQuantity, Side } from '../types.ts';
import { fromReceiver, poseRotation, rotate, unit, type Vec3 } from '../vectors.ts';
import type { Facing, Guide, HandlePlace } from './place.ts';

/** A shape handle in its coil's own frame. */
interface Local {
  readonly quantity: ShapeQuantity;
  readonly value: number;
  readonly at: Vec3;
  /** Direction that raises the value, and by how much for a metre. */
  readonly direction: Vec3;
  readonly perMetre: number;
  readonly toward: Vec3;
  readonly guides: readonly { readonly kind: Guide['kind']; readonly points: readonly Vec3[] }[];
  readonly rest: boolean;
}

const SQRT_HALF = Math.SQRT1_2;

/** A full width across the centre, with its dimension line at the height of the handle. */
function width(quantity: ShapeQuantity, value: number, direction: Vec3, level: Vec3, inner: boolean): Local {
  const at = (k: number): Vec3 => [
    level[0] + (direction[0] * k * value) / 2,
    level[1] + (direction[1] * k * value) / 2,
    0,
  ];
  return {
    quantity,
    value,
    at: at(1),
    direction,
    perMetre: 2,
    toward: inner ? [-direction[0], -direction[1], 0] : direction,
    guides: [{ kind: 'dimension', points: [at(-1), at(1)] }],
    rest: !inner,
  };
}

function ofOutline(outline: CoilOutline, [sx, sy]: readonly [number, number]): readonly Local[] {
  if (outline.shape === 'path') return [];
  if (outline.shape === 'circle') {
    const out: Vec3 = [sx * SQRT_HALF, sy * SQRT_HALF, 0];
    return [
      width('Outer', outline.outerDiameter, out, [0, 0, 0], false),
      width('Inner', outline.innerDiameter, out, [0, 0, 0], true),
    ];
  }
  const { outerWidth, outerHeight, innerWidth, innerHeight } = outline;
  const locals: Local[] = [
    width('OuterWidth', outerWidth, [sx, 0, 0], [0, sy * 0.22 * outerHeight, 0], false),
    width('OuterHeight', outerHeight, [0, sy, 0], [sx * 0.16 * outerWidth, 0, 0], false),
    width('InnerWidth', innerWidth, [sx, 0, 0], [0, sy * 0.2 * innerHeight, 0], true),
    width('InnerHeight', innerHeight, [0, sy, 0], [sx * 0.16 * innerWidth, 0, 0], true),
  ];
  if (outline.shape === 'roundedRectangle') {
    const r = outline.outerCornerRadius;
    const cx = sx * (outerWidth / 2 - r);
    const cy = sy * (outerHeight / 2 - r);
    const at: Vec3 = [cx + sx * r * SQRT_HALF, cy + sy * r * SQRT_HALF, 0];
    locals.push({
      quantity: 'CornerRadius',
      value: r,
      at,
      direction: [-sx * SQRT_HALF, -sy * SQRT_HALF, 0],
      // The middle of the corner lies (sqrt 2 - 1) radii from the sharp corner.
      perMetre: 1 / (Math.SQRT2 - 1),
      toward: [sx * SQRT_HALF, sy * SQRT_HALF, 0],
      guides: [{ kind: 'extension', points: [[cx, cy, 0], at] }],
      rest: false,
    });
  }
  return locals;
}

/** Turns: in the middle of the band; a pitch further in is one more turn in each layer. */
function turns(data: LinkSceneData, side: Side, [sx, sy]: readonly [number, number]): Local {
  const { winding } = data[side];
  const { outline, conductor, layers } = winding.spec;
  const wire = conductor.kind === 'trace' ? conductor.width : drawnDiameter(conductor);
  const circle = outline.shape === 'circle';
  const pitch = Math.max(circle ? winding.pitchX : winding.pitchY, wire / 2);
  const angle = Math.atan2(sy, sx) + (sx * sy < 0 ? -1 : 1) * 0.42;
  const along: Vec3 = circle ? [Math.cos(angle), Math.sin(angle), 0] : [0, sy, 0];
  const outer = circle ? winding.halfWidth : winding.halfHeight;
  const inner =
    outline.shape === 'circle'
      ? outline.innerDiameter / 2
      : outline.shape === 'path'
        ? outer - pitch * Math.max(1, winding.spec.turns / layers)
        : outline.innerHeight / 2;
  const shift: Vec3 = circle ? [0, 0, 0] : [sx * 0.02 * winding.halfWidth, 0, 0];
  const at = (r: number): Vec3 => [shift[0] + along[0] * r, shift[1] + along[1] * r, 0];
  return {
    quantity: 'Turns',
    value: winding.spec.turns,
    at: at((outer + inner) / 2),
    direction: [-along[0], -along[1], 0],
    perMetre: layers / pitch,
    toward: unit([-sx, sy, 0]),
    guides: [{ kind: 'dimension', points: [at(inner), at(outer)] }],
    rest: false,
  };
}

/** The handles that change a coil's shape, in the quarter that is cut open. */
export function shapePlaces(data: LinkSceneData, side: Side, facing: Facing): readonly HandlePlace[] {
  const rotation = side === 'receiver' ? poseRotation(data.pose) : null;
  const place = (p: Vec3): Vec3 => (side === 'receiver' ? fromReceiver(data.pose, p) : p);
  const turn = (d: Vec3): Vec3 => (rotation === null ? d : rotate(rotation, d));
  const locals = [...ofOutline(data[side].winding.spec.outline, facing.corner), turns(data, side, facing.corner)];
  return locals.map((local) => {
    const id: ShapeHandle = `${side}${local.quantity}`;
    return {
      id,
      side,
      offered: local.rest ? 'rest' : 'side',
      at: place(local.at),
      rule: { kind: 'axis', through: place(local.at), direction: turn(local.direction), perMetre: local.perMetre },
      value: { handle: id, value: local.value },
      guides: local.guides.map((g) => ({ kind: g.kind, when: 'active', points: g.points.map(place) })),
      labels: [{ id, at: place(local.at), toward: turn(local.toward), when: local.rest ? 'rest' : 'active' }],
    };
  });
}
