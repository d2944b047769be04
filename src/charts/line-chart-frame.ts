import { type LinearScale, linearScale } from './linear-scale.ts';
import type { Box } from './place-labels.ts';

export interface LineFrame {
  readonly width: number;
  readonly height: number;
  readonly plot: Box;
  readonly x: LinearScale;
  readonly y: LinearScale;
}

export interface LineFrameSpec {
  readonly width: number;
  readonly height: number;
  readonly xDomain: readonly [number, number];
  readonly yDomain: readonly [number, number];
  /** Room for the tick numbers at the left, px; 0 where a neighbour carries them. */
  readonly left: number;
  /** Room below for ticks, and for the marker's number. */
  readonly bottom: number;
}

export function lineFrame(spec: LineFrameSpec): LineFrame {
  const plot: Box = {
    x: spec.left,
    y: 8,
    width: Math.max(30, spec.width - spec.left - 8),
    height: Math.max(30, spec.height - 8 - spec.bottom),
  };
  return {
    width: spec.width,
    height: spec.height,
    plot,
    x: linearScale(spec.xDomain, [plot.x, plot.x + plot.width]),
    y: linearScale(spec.yDomain, [plot.y + plot.height, plot.y]),
  };
}

/**
 * Range of margins to show, percent: all of the finite values down to just under zero, without the deep fall beyond
 * collapse, which would press everything else flat.
 */
export function marginDomain(series: readonly ArrayLike<number>[]): [number, number] {
  if (series.length === 0) return [-20, 100];
  let high = 20;
  let low = 0;
  for (const values of series) {
    for (let i = 0; i < values.length; i += 1) {
      if (!Number.isFinite(values[i])) continue;
      high = Math.max(high, values[i]);
      low = Math.min(low, values[i]);
    }
  }
  high = Math.min(high, 400);
  const step = high > 200 ? 50 : high > 80 ? 20 : 10;
  return [Math.max(Math.floor(low / 10) * 10, -Math.ceil(high / 40) * 10, -50), Math.ceil(high / step) * step];
}

/** Value of a curve at x by linear interpolation; NaN outside its ends. */
export function curveAt(xs: ArrayLike<number>, ys: ArrayLike<number>, x: number): number {
  const last = xs.length - 1;
  if (last < 0 || !(x >= xs[0] && x <= xs[last])) return Number.NaN;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (xs[middle] <= x) low = middle;
    else high = middle;
  }
  if (low === high) return ys[low];
  const t = (x - xs[low]) / (xs[high] - xs[low]);
  return ys[low] + t * (ys[high] - ys[low]);
}
