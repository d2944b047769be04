import { passRanges } from './pass-ranges.ts';
import { pieceLength, piecePoint, pieceTangent } from './piece-geometry.ts';
import type { Piece, Winding } from './types.ts';

/** A neighbouring conductor beside a place on the winding. */
export interface NearbyPiece {
  /** Its middle from the place, along the in-plane normal that points outwards, m. */
  readonly across: number;
  /** Height of its plane above the place, m. */
  readonly height: number;
  /** Its share of the coil current along the place's direction. */
  readonly current: number;
  /** Which piece it is, and where on it, as a fraction. */
  readonly turn: number;
  readonly index: number;
  readonly fraction: number;
}

export interface NearbyPieces {
  /** Neighbours of piece `index` of turn `turn`, at a place on it with the tangent (tx, ty). Its own pass is left out. */
  readonly at: (
    turn: number,
    index: number,
    x: number,
    y: number,
    z: number,
    tx: number,
    ty: number,
  ) => readonly NearbyPiece[];
}

interface Side {
  readonly piece: Piece;
  readonly turn: number;
  readonly index: number;
  readonly z: number;
  readonly weight: number;
  readonly reach: number;
  readonly middle: readonly [number, number, number];
}

/** Share of a neighbour's distance that must lie across or above: 87 degrees ahead. */
const LEAST_BESIDE = 0.05;

/** Prepares the search for neighbours that run beside a place, up to `farthest` away (m). */
export function nearbyPieces(winding: Winding, farthest: number): NearbyPieces {
  const sides: Side[] = winding.turns.flatMap((turn, number) =>
    turn.pieces
      .map((piece, index) => ({
        piece,
        turn: number,
        index,
        z: turn.z,
        weight: turn.weight,
        reach: pieceLength(piece) / 2 + farthest,
        middle: piecePoint(piece, 0.5),
      }))
      .filter(({ piece }) => Math.abs(pieceTangent(piece, 0.5)[2]) < 0.5),
  );
  const passes = winding.turns.map((turn) => (winding.spec.winding === 'spiral' ? passRanges(turn, false) : null));
  return {
    at(turn, index, x, y, z, tx, ty) {
      const found: NearbyPiece[] = [];
      for (const q of sides) {
        if (q.turn === turn && (passes[turn]?.same(index, q.index) ?? true)) continue;
        if (Math.abs(x - q.middle[0]) > q.reach || Math.abs(y - q.middle[1]) > q.reach) continue;
        const height = q.z + q.middle[2] - z;
        const foot = footOn(q.piece, x, y);
        if (foot === null) continue;
        const across = (foot.x - x) * ty - (foot.y - y) * tx;
        const distance = Math.hypot(foot.x - x, foot.y - y, height);
        // What crosses ahead at right angles does not run beside.
        if (distance > farthest || Math.hypot(across, height) < LEAST_BESIDE * distance) continue;
        const current = q.weight * (tx * foot.tx + ty * foot.ty);
        found.push({ across, height, current, turn: q.turn, index: q.index, fraction: foot.fraction });
      }
      return found;
    },
  };
}

interface Foot {
  readonly x: number;
  readonly y: number;
  readonly tx: number;
  readonly ty: number;
  readonly fraction: number;
}

/** Where the perpendicular from a point meets a piece, and the piece's direction there; null where it does not. */
function footOn(piece: Piece, x: number, y: number): Foot | null {
  if (piece.kind === 'line') {
    const length = Math.hypot(piece.x1 - piece.x0, piece.y1 - piece.y0);
    const tx = (piece.x1 - piece.x0) / length;
    const ty = (piece.y1 - piece.y0) / length;
    const along = (x - piece.x0) * tx + (y - piece.y0) * ty;
    // Half open, so that a point beside the joint of two pieces counts once.
    if (along < 0 || along >= length) return null;
    return { x: piece.x0 + along * tx, y: piece.y0 + along * ty, tx, ty, fraction: along / length };
  }
  const rho = Math.hypot(x - piece.cx, y - piece.cy);
  if (rho === 0) return null;
  const ux = (x - piece.cx) / rho;
  const uy = (y - piece.cy) / rho;
  const sign = Math.sign(piece.sweep);
  const turned = (Math.atan2(uy, ux) - piece.start) * sign;
  const fraction = (turned - 2 * Math.PI * Math.floor(turned / (2 * Math.PI))) / Math.abs(piece.sweep);
  if (fraction >= 1) return null;
  return { x: piece.cx + piece.radius * ux, y: piece.cy + piece.radius * uy, tx: -sign * uy, ty: sign * ux, fraction };
}
