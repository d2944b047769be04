/** A gridded field on a finer grid. */
import type { GridField } from './contour.ts';

/** The grid with `factor` - 1 points between neighbours: cubic through four points (at the edges one-sided), or linear. */
export function refineField(field: GridField, factor: number, linear = false): GridField {
  if (factor <= 1) return field;
  const alongX = refinement(field.x, factor, linear);
  const alongY = refinement(field.y, factor, linear);
  const nx = alongX.axis.length;
  const rows = field.y.length;
  const wide = new Float64Array(nx * rows);
  for (let j = 0; j < rows; j += 1) refineLine(alongX, field.values, j * field.x.length, 1, wide, j * nx, 1);
  const values = new Float64Array(nx * alongY.axis.length);
  for (let i = 0; i < nx; i += 1) refineLine(alongY, wide, i, nx, values, i, nx);
  return { x: alongX.axis, y: alongY.axis, values };
}

/** How each point of a refined axis is read off four neighbouring points of the coarse one. */
interface Refinement {
  readonly axis: Float64Array;
  /** First of the four points. */
  readonly first: Int32Array;
  /** Lagrange weights, [point, 4]. */
  readonly weights: Float64Array;
  /** Left point of the interval and share towards the right one, for a straight line. */
  readonly left: Int32Array;
  readonly share: Float64Array;
  readonly linear: boolean;
}

function refinement(axis: Float64Array, factor: number, linear: boolean): Refinement {
  const n = axis.length;
  const count = (n - 1) * factor + 1;
  const out = {
    axis: new Float64Array(count),
    first: new Int32Array(count),
    weights: new Float64Array(4 * count),
    left: new Int32Array(count),
    share: new Float64Array(count),
    linear: linear || n < 4,
  };
  for (let k = 0; k < count; k += 1) {
    const i = Math.min(n - 2, Math.floor(k / factor));
    const share = (k - i * factor) / factor;
    out.left[k] = i;
    out.share[k] = share;
    out.axis[k] = share === 0 ? axis[i] : share === 1 ? axis[i + 1] : axis[i] + share * (axis[i + 1] - axis[i]);
    if (out.linear) continue;
    const first = Math.max(0, Math.min(n - 4, i - 1));
    out.first[k] = first;
    for (let a = 0; a < 4; a += 1) {
      let weight = 1;
      for (let b = 0; b < 4; b += 1)
        if (b !== a) weight *= (out.axis[k] - axis[first + b]) / (axis[first + a] - axis[first + b]);
      out.weights[4 * k + a] = weight;
    }
  }
  return out;
}

/** Refines one line of a grid. Where a neighbour is not finite the line is straight; a cubic never leaves its neighbours. */
function refineLine(
  to: Refinement,
  from: Float64Array,
  offset: number,
  stride: number,
  out: Float64Array,
  outOffset: number,
  outStride: number,
): void {
  const { first, weights, left, share } = to;
  for (let k = 0; k < share.length; k += 1) {
    const at = offset + left[k] * stride;
    const t = share[k];
    let value: number;
    if (t === 0) value = from[at];
    else if (t === 1) value = from[at + stride];
    else if (to.linear) value = from[at] + t * (from[at + stride] - from[at]);
    else {
      const p = offset + first[k] * stride;
      const v0 = from[p];
      const v1 = from[p + stride];
      const v2 = from[p + 2 * stride];
      const v3 = from[p + 3 * stride];
      value = weights[4 * k] * v0 + weights[4 * k + 1] * v1 + weights[4 * k + 2] * v2 + weights[4 * k + 3] * v3;
      if (!Number.isFinite(value)) value = from[at] + t * (from[at + stride] - from[at]);
      else {
        // A jump (the link falls asleep) makes a cubic ring; keep it within the values around.
        const low = Math.min(v0, v1, v2, v3);
        const high = Math.max(v0, v1, v2, v3);
        if (value < low) value = low;
        else if (value > high) value = high;
      }
    }
    out[outOffset + k * outStride] = value;
  }
}
