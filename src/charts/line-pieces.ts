import type { Box } from './place-labels.ts';
import type { Projection } from './svg-path.ts';

/** Length of line that a piece covers, px, and its width. */
const STEP = 6;
const THICK = 4;

/** A drawn line in boxes of a few px, without a hole between them, for labels that are not to hide it. */
function piecesOf(count: number, at: (i: number) => readonly [number, number]): Box[] {
  const boxes: Box[] = [];
  const add = (x: number, y: number) => boxes.push({ x: x - THICK / 2, y: y - THICK / 2, width: THICK, height: THICK });
  let before: readonly [number, number] | null = null;
  for (let i = 0; i < count; i += 1) {
    const [x, y] = at(i);
    if (!Number.isFinite(x) || !Number.isFinite(y)) {
      before = null;
      continue;
    }
    if (before) {
      const [fromX, fromY] = before;
      const length = Math.hypot(x - fromX, y - fromY);
      // Points closer than a piece are one piece.
      if (length < STEP && i < count - 1) continue;
      const parts = Math.max(1, Math.ceil(length / STEP));
      for (let k = 1; k <= parts; k += 1) add(fromX + ((x - fromX) * k) / parts, fromY + ((y - fromY) * k) / parts);
    } else add(x, y);
    before = [x, y];
  }
  return boxes;
}

/** Pieces of a polyline, flat x y in the drawing's unit. */
export function linePieces(points: ArrayLike<number>, to: Projection): Box[] {
  return piecesOf(Math.floor(points.length / 2), (i) => [to.x(points[2 * i]), to.y(points[2 * i + 1])]);
}

/** Pieces of a curve over its places, in the drawing's units; where a value is not finite it breaks. */
export function curvePieces(xs: ArrayLike<number>, ys: ArrayLike<number>, to: Projection): Box[] {
  return piecesOf(xs.length, (i) => [to.x(xs[i]), to.y(ys[i])]);
}
