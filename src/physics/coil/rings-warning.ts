import { millimetres } from './coil-spec-faults.ts';
import { conductorWidth } from './conductor-size.ts';
import { isFullCircle, piecePoint } from './piece-geometry.ts';
import type { Winding } from './types.ts';

/** Rings closer to the axis than this many spacings between turns hardly exist in a real spiral. */
const LEAST_SPACINGS = 1.5;

/**
 * A warning where closed rings are a poor picture of a coil wound nearly to its centre, or null.
 *
 * The innermost ring is then smaller than the spacing between turns, and counting conductors along one radius gives up to
 * one turn more than the wire makes: for a measured spiral said to have 11 turns (10 to 10.5 on its photograph) eleven
 * rings give 11 to 15 % too much self- and 13 to 17 % too much mutual inductance.
 * Source: reference-cases/self-inductance, printed-spiral-measured.
 */
export function ringsWarning(winding: Winding): string | null {
  const { spec } = winding;
  if (spec.winding === 'spiral' || spec.turns / spec.layers < 3) return null;
  const spacing = Math.max(winding.pitchX, winding.pitchY) * spec.filars;
  let nearest = Number.POSITIVE_INFINITY;
  for (const turn of winding.turns) {
    for (const piece of turn.pieces) {
      const ends = isFullCircle(piece) ? [0] : [0, 0.5];
      for (const at of ends) {
        const [x, y] = piecePoint(piece, at);
        nearest = Math.min(nearest, Math.hypot(x, y));
      }
    }
  }
  if (nearest >= LEAST_SPACINGS * Math.max(spacing, conductorWidth(spec.conductor))) return null;
  return (
    `This coil is wound nearly to its centre: the innermost turn comes within ${millimetres(nearest)} of the axis, turns are ` +
    `${millimetres(spacing)} apart. Closed rings then overstate self- and mutual inductance by 10 to 17 % if the turns were ` +
    `counted along one radius. Count them along the wire (a fraction is allowed) and wind it as a spiral.`
  );
}
