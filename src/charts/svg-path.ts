/** Screen place of a point given in the drawing's unit. */
export interface Projection {
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
}

const round = (value: number): number => Math.round(value * 100) / 100;

/** `d` of a polyline given flat x y, projected to px; `closed` adds the closing stroke. */
export function polylinePath(points: ArrayLike<number>, to: Projection, closed = false): string {
  let d = '';
  for (let i = 0; i + 1 < points.length; i += 2) {
    d += `${i === 0 ? 'M' : 'L'}${round(to.x(points[i]))},${round(to.y(points[i + 1]))}`;
  }
  return closed && d !== '' ? `${d}Z` : d;
}

/** Moves flat x y points by a turn (radians) and then a shift, in their own unit. */
export function moved(points: ArrayLike<number>, turn: number, dx: number, dy: number): Float64Array {
  const cos = Math.cos(turn);
  const sin = Math.sin(turn);
  const out = new Float64Array(points.length);
  for (let i = 0; i + 1 < points.length; i += 2) {
    out[i] = cos * points[i] - sin * points[i + 1] + dx;
    out[i + 1] = sin * points[i] + cos * points[i + 1] + dy;
  }
  return out;
}
