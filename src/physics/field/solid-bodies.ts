import { convexDistance, type Support } from '../../numerics/convex-distance.ts';
import { conductorWidth } from '../coil/conductor-size.ts';
import { piecePoint } from '../coil/piece-geometry.ts';
import type { Winding } from '../coil/types.ts';
import { outlineBox } from './outline-grid.ts';
import { sideLayout } from './side-layout.ts';
import type { LinkSide } from './types.ts';

/** A flat convex body parallel to its coil: the hull of points, grown by a radius, between two heights. */
export interface FlatBody {
  readonly part: 'winding' | 'ferrite' | 'metal';
  /** x y of the corner points, flat. */
  readonly points: Float64Array;
  readonly radius: number;
  readonly low: number;
  readonly high: number;
}

/** The bodies of one side in its coil's frame. A winding counts with its hole: no plate may dip into it. */
export function sideBodies(side: LinkSide, back: 1 | -1): FlatBody[] {
  const layout = sideLayout(side, back);
  const bodies: FlatBody[] = [windingBody(side.winding)];
  if (side.ferrite) bodies.push(plateBody('ferrite', side.ferrite.outline, layout.ferriteFront, layout.ferriteBack));
  if (side.metal) bodies.push(plateBody('metal', side.metal.outline, layout.metalFront, layout.metalBack));
  return bodies;
}

function windingBody(winding: Winding): FlatBody {
  const points: number[] = [];
  for (const turn of winding.turns) {
    for (const piece of turn.pieces) {
      const steps = piece.kind === 'line' ? 1 : Math.max(2, Math.ceil(Math.abs(piece.sweep) / 0.1));
      for (let i = 0; i <= steps; i++) {
        const [x, y] = piecePoint(piece, i / steps);
        points.push(x, y);
      }
    }
  }
  return {
    part: 'winding',
    points: Float64Array.from(points),
    radius: conductorWidth(winding.spec.conductor) / 2,
    low: -winding.halfThickness,
    high: winding.halfThickness,
  };
}

function plateBody(
  part: 'ferrite' | 'metal',
  outline: Parameters<typeof outlineBox>[0],
  a: number,
  b: number,
): FlatBody {
  const { halfWidth, halfHeight, radius } = outlineBox(outline);
  const w = halfWidth - radius;
  const h = halfHeight - radius;
  return {
    part,
    points: Float64Array.of(w, h, -w, h, -w, -h, w, -h),
    radius,
    low: Math.min(a, b),
    high: Math.max(a, b),
  };
}

/** Support function of a body, moved by a pose matrix where one is given. */
export function bodySupport(body: FlatBody, matrix: Float64Array | null): Support {
  const { points, radius, low, high } = body;
  return (dx, dy, dz, out) => {
    const m = matrix;
    const u = m ? m[0]! * dx + m[3]! * dy + m[6]! * dz : dx;
    const v = m ? m[1]! * dx + m[4]! * dy + m[7]! * dz : dy;
    const w = m ? m[2]! * dx + m[5]! * dy + m[8]! * dz : dz;
    let best = -Infinity;
    let x = 0;
    let y = 0;
    for (let i = 0; i < points.length; i += 2) {
      const along = points[i]! * u + points[i + 1]! * v;
      if (along > best) {
        best = along;
        x = points[i]!;
        y = points[i + 1]!;
      }
    }
    const flat = Math.hypot(u, v);
    if (flat > 0) {
      x += (radius * u) / flat;
      y += (radius * v) / flat;
    }
    const z = w >= 0 ? high : low;
    out[0] = m ? m[0]! * x + m[1]! * y + m[2]! * z + m[9]! : x;
    out[1] = m ? m[3]! * x + m[4]! * y + m[5]! * z + m[10]! : y;
    out[2] = m ? m[6]! * x + m[7]! * y + m[8]! * z + m[11]! : z;
  };
}

/** Distance of two bodies, the second moved by a pose matrix, m; 0 where they touch. Exact to 1 um. */
export function bodyDistance(a: FlatBody, b: FlatBody, matrix: Float64Array): number {
  return convexDistance(bodySupport(a, null), bodySupport(b, matrix), 1e-6);
}

const extreme = new Float64Array(3);

/**
 * Height of the nearest of the far side's bodies over a plane z = front of this side's frame, m; negative where one
 * reaches behind it.
 *
 * @param matrix carries the far side's frame into this side's
 */
export function heightOver(front: number, back: 1 | -1, bodies: readonly FlatBody[], matrix: Float64Array): number {
  let least = Infinity;
  for (const body of bodies) {
    bodySupport(body, matrix)(0, 0, back, extreme);
    least = Math.min(least, -back * (extreme[2]! - front));
  }
  return least;
}
