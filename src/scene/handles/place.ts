import type { AnchorId, HandleId, HandleValue, Side } from '../types.ts';
import type { Vec3 } from '../vectors.ts';
import type { DragRule } from './drag-rule.ts';

/** A line of the drawing that belongs to a handle, in the transmitter's frame, m. */
export interface Guide {
  readonly points: readonly Vec3[];
  /** `dimension` and `turn` have an arrow head at each end; `extension` and `arc` are thin; `axis` is a chain line. */
  readonly kind: 'dimension' | 'extension' | 'arc' | 'turn' | 'axis';
  /** `rest`: always there. `active`: while the handle is pointed at, focused or dragged. */
  readonly when: 'rest' | 'active';
}

/** Where a number stands and on which side of that point, in the transmitter's frame. */
export interface Label {
  readonly id: AnchorId;
  readonly at: Vec3;
  readonly toward: Vec3;
  readonly when: 'rest' | 'active';
}

/** A handle as it stands in the drawing. */
export interface HandlePlace {
  readonly id: HandleId;
  readonly side: Side;
  /** `rest`: always offered. `side`: offered once its coil is pointed at, picked or has the focus. */
  readonly offered: 'rest' | 'side';
  readonly at: Vec3;
  readonly rule: DragRule;
  readonly value: HandleValue;
  readonly guides: readonly Guide[];
  readonly labels: readonly Label[];
}

/**
 * Directions of the drawing as the viewer sees it, each one of the axes of the table: towards the viewer, and to the
 * right. Handles stand where these point, so that none hides behind the coils.
 */
export interface Facing {
  readonly front: readonly [number, number];
  readonly right: readonly [number, number];
  /** Signs of x and y in the quarter cut open. */
  readonly corner: readonly [number, number];
}

/** The facing for a viewer at this azimuth (rad from +x). */
export function facingOf(azimuth: number, quarter: number): Facing {
  const c = Math.cos(azimuth);
  const s = Math.sin(azimuth);
  const alongX = Math.abs(c) > Math.abs(s);
  const middle = (quarter + 0.5) * (Math.PI / 2);
  return {
    front: alongX ? [Math.sign(c), 0] : [0, Math.sign(s)],
    right: alongX ? [0, Math.sign(c)] : [-Math.sign(s), 0],
    corner: [Math.sign(Math.cos(middle)), Math.sign(Math.sin(middle))],
  };
}
