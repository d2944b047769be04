/** Margins for a million placements: bicubic look-up in precomputed maps, array by array. */
import { InputError } from '../../numerics/errors.ts';

/**
 * Slack of one condition (met at >= 0) at many placements: offsets in mm and turns in rad in, values out. The arrays have one
 * length; `out` may not alias them.
 */
export type BatchSlack = (x: Float64Array, y: Float64Array, yaw: Float64Array, out: Float64Array) => void;

/** Maps of one quantity at several turns, on one even grid. */
export interface YawMaps {
  /** Even grid axes, mm, ascending, at least 4 points. */
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  /** Turns of the maps, rad, ascending; one is enough where the turn does not matter. */
  readonly yaw: Float64Array;
  /** [yaw][y][x] row-major. */
  readonly values: Float64Array;
}

/**
 * Look-up by bicubic (Catmull-Rom) interpolation in the offset and linear interpolation in the turn. Outside the grid in
 * x or y the answer is `outside`; turns beyond the maps take the nearest one. A value that is not finite spreads to the
 * placements within two grid steps as `outside`.
 *
 * Accuracy: error of order (grid step)^3 of the offset, (turn step)^2 / 8 of the turn's curvature. About 40 ns a placement
 * and map.
 * @throws InputError for a grid that is not even or too small.
 */
export function mapLookup(maps: YawMaps, outside = Number.NEGATIVE_INFINITY): BatchSlack {
  const { xMm, yMm, yaw, values } = maps;
  const nx = xMm.length;
  const ny = yMm.length;
  const stepX = evenStep(xMm, 'xMm');
  const stepY = evenStep(yMm, 'yMm');
  const layer = nx * ny;
  if (yaw.length < 1 || values.length !== yaw.length * layer)
    throw new InputError({
      code: 'lookup-size',
      path: 'values',
      required: `${yaw.length} maps of ${nx} x ${ny} values`,
      received: `${values.length} values`,
    });
  const fromX = xMm[0];
  const fromY = yMm[0];
  const one = (base: number, u: number, v: number): number => {
    const i = Math.min(nx - 2, Math.floor(u));
    const j = Math.min(ny - 2, Math.floor(v));
    const s = u - i;
    const t = v - j;
    const w0 = ((2 - s) * s - 1) * s * 0.5;
    const w1 = ((3 * s - 5) * s * s + 2) * 0.5;
    const w2 = ((4 - 3 * s) * s + 1) * s * 0.5;
    const w3 = (s - 1) * s * s * 0.5;
    const v0 = ((2 - t) * t - 1) * t * 0.5;
    const v1 = ((3 * t - 5) * t * t + 2) * 0.5;
    const v2 = ((4 - 3 * t) * t + 1) * t * 0.5;
    const v3 = (t - 1) * t * t * 0.5;
    if (i > 0 && j > 0 && i + 2 < nx && j + 2 < ny) {
      let r = base + (j - 1) * nx + i - 1;
      let sum = v0 * (w0 * values[r] + w1 * values[r + 1] + w2 * values[r + 2] + w3 * values[r + 3]);
      r += nx;
      sum += v1 * (w0 * values[r] + w1 * values[r + 1] + w2 * values[r + 2] + w3 * values[r + 3]);
      r += nx;
      sum += v2 * (w0 * values[r] + w1 * values[r + 1] + w2 * values[r + 2] + w3 * values[r + 3]);
      r += nx;
      return sum + v3 * (w0 * values[r] + w1 * values[r + 1] + w2 * values[r + 2] + w3 * values[r + 3]);
    }
    // At the border the missing point continues the parabola through the three nearest.
    const row = (b: number): number => {
      const r = base + b * nx + i;
      const a1 = values[r];
      const a2 = values[r + 1];
      const a0 = i > 0 ? values[r - 1] : 3 * (a1 - a2) + values[r + 2];
      const a3 = i + 2 < nx ? values[r + 2] : 3 * (a2 - a1) + values[r - 1];
      return w0 * a0 + w1 * a1 + w2 * a2 + w3 * a3;
    };
    const b1 = row(j);
    const b2 = row(j + 1);
    const b0 = j > 0 ? row(j - 1) : 3 * (b1 - b2) + row(j + 2);
    const b3 = j + 2 < ny ? row(j + 2) : 3 * (b2 - b1) + row(j - 1);
    return v0 * b0 + v1 * b1 + v2 * b2 + v3 * b3;
  };
  return (x, y, turn, out) => {
    for (let k = 0; k < out.length; k += 1) {
      const u = (x[k] - fromX) / stepX;
      const v = (y[k] - fromY) / stepY;
      if (!(u >= 0 && u <= nx - 1 && v >= 0 && v <= ny - 1)) {
        out[k] = outside;
        continue;
      }
      let value: number;
      if (yaw.length === 1) value = one(0, u, v);
      else {
        const angle = Math.max(yaw[0], Math.min(yaw[yaw.length - 1], turn[k]));
        let low = 0;
        while (low + 2 < yaw.length && yaw[low + 1] <= angle) low += 1;
        const share = (angle - yaw[low]) / (yaw[low + 1] - yaw[low]);
        value = (1 - share) * one(low * layer, u, v) + share * one((low + 1) * layer, u, v);
      }
      out[k] = Number.isFinite(value) ? value : outside;
    }
  };
}

function evenStep(axis: Float64Array, path: string): number {
  const n = axis.length;
  const step = (axis[n - 1] - axis[0]) / (n - 1);
  let even = n >= 4 && step > 0;
  for (let k = 1; even && k < n; k += 1) even = Math.abs(axis[k] - axis[0] - k * step) <= 1e-9 * Math.abs(step) * n;
  if (!even)
    throw new InputError({
      code: 'lookup-axis',
      path,
      required: 'at least 4 evenly spaced ascending values',
      received: `${n} values`,
    });
  return step;
}
