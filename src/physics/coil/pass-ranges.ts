import { pieceTangent } from './piece-geometry.ts';
import type { Turn } from './types.ts';

/** Which pieces of a path belong to the same pass: less than half a turn apart along the wire. */
export interface PassRanges {
  readonly same: (p: number, q: number) => boolean;
  /** Range of pieces, from and up to but not including, of the same pass as piece p (not across the path's ends). */
  readonly around: (p: number) => readonly [number, number];
}

/** @param closed true for a ring, whose pieces are counted both ways round; a spiral's lead and ends are neighbours */
export function passRanges(turn: Turn, closed: boolean): PassRanges {
  const n = turn.pieces.length;
  const middle = new Float64Array(n);
  let angle = 0;
  for (let p = 0; p < n; p++) {
    const piece = turn.pieces[p];
    if (p > 0) angle += turning(pieceTangent(turn.pieces[p - 1], 1), pieceTangent(piece, 0));
    const sweep = piece.kind === 'arc' ? Math.abs(piece.sweep) : 0;
    middle[p] = angle + sweep / 2;
    angle += sweep;
  }
  const half = Math.PI * (1 - 1e-9);
  const same = (p: number, q: number): boolean => {
    const steps = Math.abs(p - q);
    if (Math.min(steps, n - steps) <= 1) return true;
    const apart = Math.abs(middle[p] - middle[q]);
    return closed ? Math.min(apart, Math.abs(angle - apart)) < half : apart < half;
  };
  return {
    same,
    around(p) {
      let from = p;
      while (from > 0 && p - (from - 1) < n && Math.abs(middle[from - 1] - middle[p]) < half) from--;
      let to = p + 1;
      while (to < n && Math.abs(middle[to] - middle[p]) < half) to++;
      return [from, to];
    },
  };
}

/** Angle between two unit vectors. */
function turning(a: readonly [number, number, number], b: readonly [number, number, number]): number {
  const dot = a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const cross = Math.hypot(a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]);
  return Math.atan2(cross, dot);
}
