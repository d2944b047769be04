import { randomSource } from '../../../numerics/random.ts';
import type { Winding } from '../types.ts';
import { filamentRule } from './filament-rule.ts';
import { windingExtent } from './local-distance.ts';
import { type CrossSpectrum, crossSpectra, spectralSum } from './offset-spectrum.ts';
import { createPairKernel } from './pair-kernel.ts';
import { planeLayers } from './plane-layers.ts';
import { modesOfGrid, type SpectralBox } from './plane-spectrum.ts';
import { turnRuns } from './turn-runs.ts';

export interface OffsetMapOptions {
  /** Error aimed at, as a share of the mutual inductance at the centre. */
  readonly tolerance: number;
  /** Points of each map that are computed again by the pair kernel. */
  readonly checks: number;
}

export const offsetMapDefaults: OffsetMapOptions = Object.freeze({ tolerance: 1e-6, checks: 3 });

export interface AirOffsetMap {
  /** Mutual inductance, H: row-major [y][x]. */
  readonly m: Float64Array;
  /** Bound on the error of every entry, H: from the modes left out and from the points computed twice. */
  readonly errorEstimate: number;
  /** Mode pairs times points. */
  readonly evaluations: number;
}

/** Offset maps of one pair at one yaw; what does not depend on the distance is kept. */
export interface OffsetMapper {
  /**
   * @param z distance between the mid-planes, m
   * @param xs offsets of the receiver, m, any spacing; @param ys likewise
   */
  map(z: number, xs: ArrayLike<number>, ys: ArrayLike<number>): AirOffsetMap;
}

const MU0_4PI = 1e-7;
/** Room left beyond the largest distance between two currents, so that the box's edge is not felt. */
const BOX_MARGIN = 1.15;
const LEAST_GRID = 128;
const MOST_GRID = 1024;
const LEAST_MODES = 40;
/** Nodes are set for this much less than the tolerance at the smallest distance that a grid resolves. */
const NODE_SHARE = 0.2;
/** The checks are this much finer than the tolerance. */
const CHECK_SHARE = 0.25;
const CHECK_SAFETY = 2;
/** Error of the nodes and of the spreading, as a share of the centre value. */
const FLOOR = 4e-9;
const SEED = 20240229;

/**
 * Prepares maps of the mutual inductance in air over sideways offset, of two parallel windings of any outlines.
 *
 * @param reach largest |x| or |y| that will be asked for, m
 * Method: for parallel coils M is the cross-correlation of the two currents with 1/sqrt(rho^2 + h^2). The currents go to
 * the grid by a non-uniform fast transform, the kernel is sampled in real space on a box twice as wide as anything in it
 * (so nothing wraps around), and the product of the spectra is summed at the wanted offsets, which need not lie on the
 * grid. Layers add their kernels.
 * Accuracy: 1e-6 of the centre value, verified at random offsets off the grid (README.md); `errorEstimate` says what was
 * reached where equal pitches at a small distance need more modes than the largest grid has.
 */
export function createOffsetMapper(
  a: Winding,
  b: Winding,
  yaw: number,
  reach: number,
  options: Partial<OffsetMapOptions> = offsetMapDefaults,
): OffsetMapper {
  const { tolerance, checks } = { ...offsetMapDefaults, ...options };
  const runs = { a: turnRuns(a), b: turnRuns(b) };
  const extent = { a: windingExtent(runs.a), b: windingExtent(runs.b) };
  const inner = reach + radius(extent.a, 0) + radius(extent.b, yaw);
  const side = 2 * BOX_MARGIN * inner;
  const wave = (2 * Math.PI) / side;
  /** Product of wave number and distance where the spectrum has fallen below the tolerance, from measured decays. */
  const decayed = Math.max(4, 2 * Math.log10(1 / tolerance) - 5.5);
  const effort = -Math.log(NODE_SHARE * tolerance);
  const kernel = createPairKernel(a, b, { tolerance: Math.max(1e-10, CHECK_SHARE * tolerance) });
  const levels = new Map<number, { readonly box: SpectralBox; readonly spectra: readonly CrossSpectrum[] }>();

  const level = (grid: number) => {
    let known = levels.get(grid);
    if (!known) {
      const box = { side, inner, grid, modes: modesOfGrid(grid) };
      const distance = decayed / (wave * box.modes);
      const settings = { distance: () => distance, lineEffort: effort, turnEffort: effort, share: 1 };
      const spectra = crossSpectra(
        planeLayers(filamentRule(runs.a, settings), 0),
        planeLayers(filamentRule(runs.b, settings), yaw),
        box,
      );
      known = { box, spectra };
      levels.set(grid, known);
    }
    return known;
  };

  return {
    map(z, xs, ys) {
      const nearest = z + extent.b.low[2] - extent.a.high[2];
      const pose = (x: number, y: number) => ({ x, y, z, yaw, tiltX: 0, tiltY: 0 });
      const scale = kernel.scale(pose(0, 0));
      const wanted = tolerance * scale;
      const points = checkPoints(xs, ys, checks);
      const known = points.map((at) => kernel.mutual(pose(xs[at.x]!, ys[at.y]!)));
      let modes = Math.max(LEAST_MODES, Math.ceil(decayed / (wave * nearest)));
      let evaluations = 0;
      for (;;) {
        let grid = LEAST_GRID;
        while (modesOfGrid(grid) < modes && grid < MOST_GRID) grid *= 2;
        const { box, spectra } = level(grid);
        const used = Math.min(modes, box.modes);
        const { values: m, tail } = spectralSum(spectra, z, box, used, xs, ys);
        for (let k = 0; k < m.length; k++) m[k]! *= MU0_4PI;
        evaluations += (used + 1) ** 2 * m.length;
        let error = MU0_4PI * tail + FLOOR * scale;
        points.forEach((at, k) => {
          const { value, errorEstimate } = known[k]!;
          const missed = Math.abs(m[at.y * xs.length + at.x]! - value);
          error = Math.max(error, CHECK_SAFETY * missed + errorEstimate + FLOOR * scale);
        });
        if (error <= wanted || modes >= modesOfGrid(MOST_GRID)) return { m, errorEstimate: error, evaluations };
        modes = Math.min(Math.max(Math.ceil(1.4 * modes), box.modes), modesOfGrid(MOST_GRID));
      }
    },
  };
}

/** One map; see `createOffsetMapper`. */
export function airOffsetMap(
  a: Winding,
  b: Winding,
  z: number,
  yaw: number,
  xs: ArrayLike<number>,
  ys: ArrayLike<number>,
  options: Partial<OffsetMapOptions> = offsetMapDefaults,
): AirOffsetMap {
  let reach = 0;
  for (const line of [xs, ys]) for (let k = 0; k < line.length; k++) reach = Math.max(reach, Math.abs(line[k]!));
  return createOffsetMapper(a, b, yaw, reach, options).map(z, xs, ys);
}

/** Points on an arc miss up to 1 - cos(0.2) of what it reaches. */
const SAMPLING_MARGIN = 1.02;

/** Half the side of the square around a winding turned by `yaw`, about the origin, not less than it is. */
function radius({ points }: { readonly points: Float64Array }, yaw: number): number {
  const cos = Math.cos(yaw);
  const sin = Math.sin(yaw);
  let most = 0;
  for (let k = 0; k < points.length; k += 3) {
    most = Math.max(
      most,
      Math.abs(cos * points[k]! - sin * points[k + 1]!),
      Math.abs(sin * points[k]! + cos * points[k + 1]!),
    );
  }
  return SAMPLING_MARGIN * most;
}

/** The entry nearest to the centre, where aligned turns make the hardest case, and random ones. */
function checkPoints(
  xs: ArrayLike<number>,
  ys: ArrayLike<number>,
  count: number,
): { readonly x: number; readonly y: number }[] {
  const nearest = (line: ArrayLike<number>): number => {
    let best = 0;
    for (let k = 1; k < line.length; k++) if (Math.abs(line[k]!) < Math.abs(line[best]!)) best = k;
    return best;
  };
  const random = randomSource(SEED);
  const any = (length: number) => Math.floor(random.uniform() * length);
  return Array.from({ length: count }, (_, k) =>
    k === 0 ? { x: nearest(xs), y: nearest(ys) } : { x: any(xs.length), y: any(ys.length) },
  );
}
