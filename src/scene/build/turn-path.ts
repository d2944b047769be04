import type { Piece, Turn } from '../../physics/coil/types.ts';

/** A turn's centre line as points to sweep along. Metres, in the plane of the turn. */
export interface TurnPath {
  /** [n, 2] row-major x y; a closed path does not repeat its first point. */
  readonly points: Float64Array;
  readonly closed: boolean;
}

/** Points nearer than this are one, m. */
const COINCIDENT = 1e-8;

function ends(piece: Piece): readonly [number, number, number, number] {
  if (piece.kind === 'line') return [piece.x0, piece.y0, piece.x1, piece.y1];
  const to = piece.start + piece.sweep;
  return [
    piece.cx + piece.radius * Math.cos(piece.start),
    piece.cy + piece.radius * Math.sin(piece.start),
    piece.cx + piece.radius * Math.cos(to),
    piece.cy + piece.radius * Math.sin(to),
  ];
}

/**
 * A turn's centre line as points: the ends of every line, and arcs at steps of at most `arcStep` radians.
 * Points that coincide are dropped, so that arcs of zero radius (sharp corners) do no harm.
 * @param arcStep largest angle between neighbouring points on an arc, rad; between 0.01 and pi/2.
 */
export function turnPath(turn: Turn, arcStep: number): TurnPath {
  const points: number[] = [];
  const add = (x: number, y: number): void => {
    const n = points.length;
    if (n >= 2 && Math.hypot(points[n - 2]! - x, points[n - 1]! - y) < COINCIDENT) return;
    points.push(x, y);
  };
  for (const piece of turn.pieces) {
    const [x0, y0, x1, y1] = ends(piece);
    add(x0, y0);
    if (piece.kind === 'arc') {
      const steps = Math.max(1, Math.ceil(Math.abs(piece.sweep) / arcStep - 1e-9));
      for (let i = 1; i < steps; i++) {
        const angle = piece.start + (piece.sweep * i) / steps;
        add(piece.cx + piece.radius * Math.cos(angle), piece.cy + piece.radius * Math.sin(angle));
      }
    }
    add(x1, y1);
  }
  const n = points.length;
  const closed = n > 4 && Math.hypot(points[0]! - points[n - 2]!, points[1]! - points[n - 1]!) < 10 * COINCIDENT;
  return { points: Float64Array.from(closed ? points.slice(0, n - 2) : points), closed };
}
