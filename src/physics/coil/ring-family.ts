import type { PolygonInset } from './polygon-inset.ts';
import type { ArcPiece, LinePiece, Piece } from './types.ts';

/**
 * The nested closed centre lines of one outline, as a function of a real position: 0 is the outermost wire, 1 the next
 * one inwards. Every ring of a family has the same number of pieces in the same order, so that a spiral can pass from
 * ring to ring; some may have zero length (a square corner, a straight side that has shrunk to nothing).
 */
export interface RingFamily {
  /** All pieces at a position, counter-clockwise, zero-length ones included. */
  template(position: number): readonly Piece[];
  /** One piece of them. */
  piece(position: number, index: number): Piece;
  /** Distance between centre lines at neighbouring whole positions along x and y, m. */
  readonly pitchX: number;
  readonly pitchY: number;
}

/** Circles of radius `outer - position * pitch`, in one full arc, or in `parts` equal arcs for a spiral. */
export function circleFamily(outer: number, pitch: number, parts: number): RingFamily {
  const sweep = (2 * Math.PI) / parts;
  const piece = (position: number, part: number): ArcPiece => ({
    kind: 'arc',
    cx: 0,
    cy: 0,
    radius: outer - position * pitch,
    start: part * sweep,
    sweep,
  });
  return {
    pitchX: pitch,
    pitchY: pitch,
    piece,
    template: (position) => Array.from({ length: parts }, (_, part) => piece(position, part)),
  };
}

/** Half-widths and corner radius of one ring's centre line, m. */
export interface CornerSizes {
  readonly halfWidth: number;
  readonly halfHeight: number;
  readonly radius: number;
}

/**
 * Rounded rectangles whose sizes are functions of the position. Pieces: right side upwards, then counter-clockwise;
 * each corner in `parts` arcs.
 */
export function cornerFamily(
  sizes: (position: number) => CornerSizes,
  pitchX: number,
  pitchY: number,
  parts: number,
): RingFamily {
  return {
    pitchX,
    pitchY,
    piece(position, index) {
      return this.template(position)[index];
    },
    template(position) {
      const { halfWidth: a, halfHeight: b, radius } = sizes(position);
      const p = Math.max(0, a - radius);
      const q = Math.max(0, b - radius);
      const pieces: Piece[] = [];
      const corner = (cx: number, cy: number, quarter: number) => {
        const sweep = Math.PI / 2 / parts;
        for (let part = 0; part < parts; part++) {
          pieces.push({ kind: 'arc', cx, cy, radius, start: (quarter * Math.PI) / 2 + part * sweep, sweep });
        }
      };
      pieces.push({ kind: 'line', x0: a, y0: -q, x1: a, y1: q });
      corner(p, q, 0);
      pieces.push({ kind: 'line', x0: p, y0: b, x1: -p, y1: b });
      corner(-p, q, 1);
      pieces.push({ kind: 'line', x0: -a, y0: q, x1: -a, y1: -q });
      corner(-p, -q, 2);
      pieces.push({ kind: 'line', x0: -p, y0: -b, x1: p, y1: -b });
      corner(p, -q, 3);
      return pieces;
    },
  };
}

/** A polygon and its insets, inset = position * pitch. */
export function polygonFamily(
  { verticesAt, sideAt }: Pick<PolygonInset, 'verticesAt' | 'sideAt'>,
  pitch: number,
): RingFamily {
  return {
    pitchX: pitch,
    pitchY: pitch,
    piece(position, index): LinePiece {
      const [x0, y0, x1, y1] = sideAt(position * pitch, index);
      return { kind: 'line', x0, y0, x1, y1 };
    },
    template(position) {
      const v = verticesAt(position * pitch);
      const n = v.length / 2;
      return Array.from({ length: n }, (_, i): LinePiece => {
        const j = (i + 1) % n;
        return { kind: 'line', x0: v[2 * i], y0: v[2 * i + 1], x1: v[2 * j], y1: v[2 * j + 1] };
      });
    },
  };
}
