import { chebyshevPoints, fitChebyshev, tailBound } from '../../../numerics/chebyshev.ts';
import type { Winding } from '../types.ts';
import { heldOutSource } from './held-out.ts';
import { windingExtent } from './local-distance.ts';
import { createOffsetMapper } from './offset-map.ts';
import { createPairKernel } from './pair-kernel.ts';
import { createScalarStencil, createSimdStencil, STENCIL } from './stencil-engine.ts';
import { turnRuns } from './turn-runs.ts';

/** Offsets and mid-plane distances that a surrogate covers, m. */
export interface PlacementBox {
  readonly x: readonly [number, number];
  readonly y: readonly [number, number];
  readonly z: readonly [number, number];
}

export interface PlacementSurrogateOptions {
  /** Error aimed at, as a share of the mutual inductance at the centre and the smallest distance. */
  readonly tolerance: number;
  /** Random placements that are computed again by the pair kernel. */
  readonly heldOut: number;
}

export const placementSurrogateDefaults: PlacementSurrogateOptions = Object.freeze({ tolerance: 1e-6, heldOut: 16 });

/** Mutual inductance in air over offset and distance at one yaw, ready for a million placements. */
export interface PlacementSurrogate {
  readonly box: PlacementBox;
  /** H; NaN outside the box. */
  evaluate(x: number, y: number, z: number): number;
  /** The same for many placements. @param out written and returned, may be any of the inputs */
  evaluateMany(x: Float64Array, y: Float64Array, z: Float64Array, out: Float64Array): Float64Array;
  /** Bound on the error anywhere in the box, H: from held-out placements and the decay along the distance. */
  readonly bound: number;
  readonly reached: boolean;
  /** Values held. */
  readonly size: number;
}

const SAFETY = 3;
/** The coefficients' own safety factor is not needed beside held-out placements. */
const TAIL_SHARE = 0.25;
const ATTEMPTS = 4;

/**
 * Tabulates M on a regular offset grid at Chebyshev distances (in log z) by offset maps, and interpolates: a polynomial of
 * degree 5 along x and y, the Chebyshev series along z. The grid follows from the smallest distance. If the held-out
 * placements miss the tolerance, the grid is refined.
 *
 * @param yaw rad, fixed
 * Accuracy and time: README.md (0.16 to 0.26 us a placement).
 */
export function createPlacementSurrogate(
  a: Winding,
  b: Winding,
  yaw: number,
  box: PlacementBox,
  options: Partial<PlacementSurrogateOptions> = placementSurrogateDefaults,
): PlacementSurrogate {
  const { tolerance, heldOut } = { ...placementSurrogateDefaults, ...options };
  const kernel = createPairKernel(a, b, { tolerance: Math.max(1e-10, tolerance / 10) });
  const scale = kernel.scale({ x: 0, y: 0, z: box.z[0], yaw, tiltX: 0, tiltY: 0 });
  const nearest = box.z[0] - windingExtent(turnRuns(a)).high[2] + windingExtent(turnRuns(b)).low[2];
  const random = heldOutSource(...box.x, ...box.y, ...box.z, yaw);
  const between = ([low, high]: readonly [number, number]) => low + (high - low) * random.uniform();
  const checks = Array.from({ length: heldOut }, () => {
    const pose = { x: between(box.x), y: between(box.y), z: between(box.z), yaw, tiltX: 0, tiltY: 0 };
    return { pose, ...kernel.mutual(pose) };
  });
  // Half of the held-out placements at the smallest distance, where it is hardest.
  for (const check of checks.slice(0, heldOut >> 1)) {
    check.pose.z = box.z[0];
    Object.assign(check, kernel.mutual(check.pose));
  }

  let step = nearest / 4;
  let levels = 5 + Math.ceil(6 * Math.log(box.z[1] / box.z[0]));
  for (let attempt = 1; ; attempt++) {
    const table = tabulate(a, b, yaw, box, step, levels, tolerance);
    let missed = 0;
    let own = 0;
    for (const { pose, value, errorEstimate } of checks) {
      missed = Math.max(missed, Math.abs(table.evaluate(pose.x, pose.y, pose.z) - value));
      own = Math.max(own, errorEstimate);
    }
    const bound = SAFETY * missed + own + table.tail;
    const reached = bound <= tolerance * scale;
    if (reached || attempt === ATTEMPTS) return { ...table, box, bound, reached };
    if (table.tail > 0.3 * tolerance * scale) levels += 4;
    else step /= 1.5;
  }
}

interface Table {
  readonly evaluate: PlacementSurrogate['evaluate'];
  readonly evaluateMany: PlacementSurrogate['evaluateMany'];
  readonly tail: number;
  readonly size: number;
}

function tabulate(
  a: Winding,
  b: Winding,
  yaw: number,
  box: PlacementBox,
  step: number,
  levels: number,
  tolerance: number,
): Table {
  // The grid reaches half a stencil beyond the box.
  const line = ([low, high]: readonly [number, number]): Float64Array => {
    const cells = Math.max(1, Math.ceil((high - low) / step));
    const first = low - (STENCIL / 2 - 1) * step;
    return Float64Array.from({ length: cells + STENCIL - 1 }, (_, k) => first + k * step);
  };
  const xs = line(box.x);
  const ys = line(box.y);
  const columns = xs.length;
  const reach = Math.max(...[xs, ys].flatMap((values) => [-values[0]!, values[values.length - 1]!].map(Math.abs)));
  const mapper = createOffsetMapper(a, b, yaw, reach, { tolerance: tolerance / 4, checks: 1 });
  const fromZ = Math.log(box.z[0]);
  const toZ = Math.log(box.z[1]);
  const flat = toZ - fromZ < 1e-12;
  const count = flat ? 1 : levels;
  const maps = Array.from(chebyshevPoints(count, fromZ, toZ), (at) => mapper.map(Math.exp(at), xs, ys).m);

  const depth = Math.max(2, count + (count & 1));
  const coefficients = new Float64Array(xs.length * ys.length * depth);
  const samples = new Float64Array(count);
  const envelope = new Float64Array(count);
  for (let k = 0; k < xs.length * ys.length; k++) {
    for (let level = 0; level < count; level++) samples[level] = maps[level]![k]!;
    const series = fitChebyshev(samples, fromZ, toZ).coefficients;
    coefficients.set(series, k * depth);
    for (let level = 0; level < count; level++) {
      envelope[level] = Math.max(envelope[level]!, Math.abs(series[level]!));
    }
  }

  const engine =
    createSimdStencil({ values: coefficients, columns, depth }) ??
    createScalarStencil({ values: coefficients, columns, depth });
  const length = 2 * STENCIL + depth;
  const records = new Float64Array(engine.batch * length);
  const first = new Int32Array(engine.batch);
  const lastColumn = columns - STENCIL;
  const lastRow = ys.length - STENCIL;
  const slack = 1e-9 * step;
  const [lowX, highX] = [box.x[0] - slack, box.x[1] + slack];
  const [lowY, highY] = [box.y[0] - slack, box.y[1] + slack];
  const [lowZ, highZ] = [box.z[0] * (1 - 1e-12), box.z[1] * (1 + 1e-12)];

  /** Writes the record of a placement; false outside the box, where it stands for the box's corner. */
  const prepare = (p: number, x: number, y: number, z: number): boolean => {
    const inside = x >= lowX && x <= highX && y >= lowY && y <= highY && z >= lowZ && z <= highZ;
    const px = inside ? (x - xs[0]!) / step : 0;
    const py = inside ? (y - ys[0]!) / step : 0;
    const column = Math.min(lastColumn, Math.max(0, Math.floor(px) - (STENCIL / 2 - 1)));
    const row = Math.min(lastRow, Math.max(0, Math.floor(py) - (STENCIL / 2 - 1)));
    first[p] = (row * columns + column) * depth;
    const at = p * length;
    localWeights(py - row, records, at);
    localWeights(px - column, records, at + STENCIL);
    const t = flat || !inside ? 0 : (2 * Math.log(z) - fromZ - toZ) / (toZ - fromZ);
    const factors = at + 2 * STENCIL;
    records[factors] = 1;
    records[factors + 1] = t;
    for (let k = 2; k < depth; k++)
      records[factors + k] = 2 * t * records[factors + k - 1]! - records[factors + k - 2]!;
    return inside;
  };

  const one = new Float64Array(1);
  const outside = new Uint8Array(engine.batch);
  return {
    evaluate(x, y, z) {
      if (!prepare(0, x, y, z)) return Number.NaN;
      engine.run(records, first, 1, one, 0);
      return one[0]!;
    },
    evaluateMany(x, y, z, out) {
      for (let from = 0; from < x.length; from += engine.batch) {
        const count = Math.min(engine.batch, x.length - from);
        for (let p = 0; p < count; p++) {
          outside[p] = prepare(p, x[from + p]!, y[from + p]!, z[from + p]!) ? 0 : 1;
        }
        engine.run(records, first, count, out, from);
        for (let p = 0; p < count; p++) if (outside[p]) out[from + p] = Number.NaN;
      }
      return out;
    },
    tail: flat ? 0 : TAIL_SHARE * tailBound(envelope),
    size: coefficients.length,
  };
}

/** Lagrange weights of six equally spaced points 0..5 at `t`, written from index `at`. */
function localWeights(t: number, out: Float64Array, at: number): void {
  const a = t;
  const b = t - 1;
  const c = t - 2;
  const d = t - 3;
  const e = t - 4;
  const f = t - 5;
  const ab = a * b;
  const ef = e * f;
  const cd = c * d;
  out[at] = (-b * cd * ef) / 120;
  out[at + 1] = (a * cd * ef) / 24;
  out[at + 2] = (-ab * d * ef) / 12;
  out[at + 3] = (ab * c * ef) / 12;
  out[at + 4] = (-ab * cd * f) / 24;
  out[at + 5] = (ab * cd * e) / 120;
}
