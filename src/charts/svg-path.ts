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

/**
 * `d` of a curve over its places, projected to px; it breaks where a value is not finite.
 *
 * @param stretch first and last point drawn; all of them without
 */
export function curvePath(
  xs: ArrayLike<number>,
  ys: ArrayLike<number>,
  to: Projection,
  [from, last]: readonly [number, number] = [0, xs.length - 1],
): string {
  let d = '';
  let pen = 'M';
  for (let i = from; i <= last; i++) {
    const [px, py] = [to.x(xs[i]), to.y(ys[i])];
    const drawn = Number.isFinite(px) && Number.isFinite(py);
    if (drawn) d += `${pen}${round(px)},${round(py)}`;
    pen = drawn ? 'L' : 'M';
  }
  return d;
}

/** `d` of the area between two curves over the same places: a piece to each run of points where both are finite. */
export function bandPath(
  xs: ArrayLike<number>,
  low: ArrayLike<number>,
  high: ArrayLike<number>,
  to: Projection,
): string {
  let d = '';
  let run: number[] = [];
  const close = (): void => {
    const there = run.flatMap((i) => [xs[i], high[i]]);
    const back = run.toReversed().flatMap((i) => [xs[i], low[i]]);
    d += polylinePath([...there, ...back], to, true);
    run = [];
  };
  for (let i = 0; i < xs.length; i++) {
    if (Number.isFinite(to.y(low[i])) && Number.isFinite(to.y(high[i]))) run.push(i);
    else close();
  }
  close();
  return d;
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
