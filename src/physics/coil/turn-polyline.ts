import { isFullCircle, pieceLength, piecePoint } from './piece-geometry.ts';
import type { Turn } from './types.ts';

/** Length of a turn's centre line, m. */
export function turnLength(turn: Turn): number {
  return turn.pieces.reduce((sum, piece) => sum + pieceLength(piece), 0);
}

/**
 * A turn as a closed polygon for solid angles and drawing.
 *
 * @param segments about how many sides the whole turn gets, at least 3. Straight pieces get one side each, the rest is
 *   shared among arcs by their length, at least two sides each.
 * @returns [n, 3] row-major x y z in the coil's frame, m, not repeating the first point
 * Arcs: the points lie outside the arc so far that every chord polygon encloses the arc's area (for a circle exactly:
 * radius sqrt(2 pi / (n sin(2 pi / n))) larger), which makes solid angles far away right to fourth order.
 */
export function turnPolyline(turn: Turn, segments: number): Float64Array {
  const arcs = turn.pieces.filter((piece) => piece.kind === 'arc');
  const arcLength = arcs.reduce((sum, piece) => sum + pieceLength(piece), 0);
  const points: number[] = [];
  for (const piece of turn.pieces) {
    if (piece.kind === 'line') {
      const [x, y, dz] = piecePoint(piece, 0);
      points.push(x, y, turn.z + dz);
      continue;
    }
    const full = isFullCircle(piece);
    const share = Math.round((segments * pieceLength(piece)) / arcLength);
    const n = Math.max(full ? 3 : 2, share);
    const step = piece.sweep / n;
    // Equal areas of sector and chord triangles; an arc's ends stay on the path, so its inner points carry the rest.
    const grow = full ? Math.sqrt(step / Math.sin(step)) : arcGrowth(Math.abs(step), n);
    for (let i = 0; i < n; i++) {
      const angle = piece.start + step * i;
      const radius = piece.radius * (full || i > 0 ? grow : 1);
      points.push(piece.cx + radius * Math.cos(angle), piece.cy + radius * Math.sin(angle), turn.z + (piece.dz ?? 0));
    }
  }
  return Float64Array.from(points);
}

/** Factor on the radius of the n - 1 inner points of an arc of n steps that keeps the sector's area. */
function arcGrowth(step: number, n: number): number {
  // (n - 2) g^2 + 2 g = n step / sin(step)
  const wanted = (n * step) / Math.sin(step);
  return n === 2 ? wanted / 2 : (Math.sqrt(1 + (n - 2) * wanted) - 1) / (n - 2);
}
