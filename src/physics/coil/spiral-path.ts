import { pieceLength, piecePoint, pieceThrough } from './piece-geometry.ts';
import type { RingFamily } from './ring-family.ts';
import type { LinePiece, Piece } from './types.ts';

type Point = readonly [number, number, number];

/** How a spiral runs through its layers. */
export interface SpiralLayout {
  /** Turns in each layer, first layer first; the first winds inwards, the next outwards, and so on. */
  readonly layerTurns: readonly number[];
  readonly layerPitch: number;
  readonly filars: number;
  /** Height of the conductor, the distance of the return lead from the outer layer's plane, m. */
  readonly leadDistance: number;
  /** -1: the lead crosses below the first layer; 1: above the last. */
  readonly leadSide: -1 | 1;
}

/**
 * One wire of a true spiral as a closed path: size falls linearly with the way around the outline, layers follow each
 * other in series, and the return lead crosses straight back one conductor height behind.
 *
 * @param filar which of the parallel wires, 0 outermost
 * Pieces: straight sides become straight lines between the sizes at their ends; arcs become the arc through the
 * spiral's start, middle and end (12 to the turn of a circle: within 2e-4 of the pitch of the exact spiral, 1e-6 in L).
 */
export function spiralPath(family: RingFamily, layout: SpiralLayout, filar: number): Piece[] {
  const most = Math.max(...layout.layerTurns);
  const breaks = pieceShares(family, layout.filars * (most + 1) - 1);
  const pieces: Piece[] = [];
  let phase = 0;
  let last: Point | null = null;
  let first: Point | null = null;
  layout.layerTurns.forEach((turns, layer) => {
    const dz = layer * layout.layerPitch;
    const inwards = layer % 2 === 0;
    const positionAt = (done: number) => filar + layout.filars * (inwards ? done : turns - done);
    const pointAt = (piece: number, share: number, done: number): Point => {
      const [x, y] = piecePoint(family.piece(positionAt(done), piece), share);
      return [x, y, dz];
    };
    let done = 0;
    let piece = breaks.findIndex((_, i) => i > 0 && breaks[i] > phase + 1e-12) - 1;
    let base = 0;
    while (done < turns - 1e-12) {
      const from = phase + done - base;
      const width = breaks[piece + 1] - breaks[piece];
      const until = Math.min(breaks[piece + 1], phase + turns - base);
      const end = until + base - phase;
      if (width > 1e-12 && end > done) {
        const s0 = (from - breaks[piece]) / width;
        const s1 = (until - breaks[piece]) / width;
        const start = pointAt(piece, s0, done);
        const stop = pointAt(piece, s1, end);
        if (last === null) first = start;
        else if (done === 0) pieces.push(joint(last, start));
        if (family.piece(positionAt(done), piece).kind === 'line') pieces.push(joint(start, stop));
        else pieces.push(pieceThrough(start, pointAt(piece, (s0 + s1) / 2, (done + end) / 2), stop));
        last = stop;
      }
      done = end;
      piece++;
      if (piece + 1 >= breaks.length) {
        piece = 0;
        base++;
      }
    }
    phase = (phase + turns) % 1;
    if (1 - phase < 1e-12) phase = 0;
  });
  return [...pieces, ...returnLead(last!, first!, layout)].filter((p) => pieceLength(p) > 1e-12);
}

function returnLead(from: Point, to: Point, layout: SpiralLayout): LinePiece[] {
  if (Math.hypot(from[0] - to[0], from[1] - to[1]) < 1e-9) return [joint(from, to)];
  const top = (layout.layerTurns.length - 1) * layout.layerPitch;
  const dz = layout.leadSide < 0 ? -layout.leadDistance : top + layout.leadDistance;
  const below: Point = [from[0], from[1], dz];
  const under: Point = [to[0], to[1], dz];
  return [joint(from, below), joint(below, under), joint(under, to)];
}

function joint(from: Point, to: Point): LinePiece {
  return { kind: 'line', x0: from[0], y0: from[1], x1: to[0], y1: to[1], dz0: from[2], dz1: to[2] };
}

/**
 * Cumulative share of each piece in the way around, 0 = b0 <= b1 <= ... <= 1, from its lengths in the outermost and the
 * innermost ring together: a piece that exists only at one end still gets its share.
 */
function pieceShares(family: RingFamily, innermost: number): number[] {
  const inner = family.template(innermost);
  const lengths = family.template(0).map((piece, i) => pieceLength(piece) + pieceLength(inner[i]));
  const total = lengths.reduce((sum, length) => sum + length, 0);
  const breaks = [0];
  let sum = 0;
  for (const length of lengths) {
    sum += length;
    breaks.push(sum / total);
  }
  breaks[breaks.length - 1] = 1;
  return breaks;
}
