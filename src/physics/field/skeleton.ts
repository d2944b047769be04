import { interpolativeDecomposition } from '../../numerics/interpolative-decomposition.ts';
import { pointPotential } from './panel-integrals.ts';
import { allocatePanels, type PanelSet, setPanel } from './panel-set.ts';

/**
 * The quarter of a side that the others mirror: panels that may carry charge, and loops of current. All in the coil's
 * frame, panel `image * members + member` with images 0..3 under the mirrors x and y.
 */
export interface Listeners {
  readonly panels: PanelSet;
  readonly members: number;
  readonly loops: PanelSet | null;
  readonly loopMembers: number;
}

/**
 * How everything on a side is read off from a few listeners, `image * quarter + listener`. A listener is the mean
 * potential on a panel, or for a loop `weight` times the difference of those on two panels below and above it, which
 * stands for the flux.
 */
export interface Skeleton {
  readonly quarter: number;
  /** For each listener of each image its panel, then for loops only the second panels; see `second`. */
  readonly panels: PanelSet;
  /** Panel subtracted, by listener of all images; -1 for a panel listener. */
  readonly second: Int32Array;
  /** By listener of all images. */
  readonly weight: Float64Array;
  /** [members, quarter]: mean potential on each panel. */
  readonly coefficients: Float64Array;
  /** [loopMembers, quarter]: H flux through each loop, m. */
  readonly loopCoefficients: Float64Array;
}

/** Half the distance of a loop listener's two panels over the size of the loop. */
const LOOP_STEP = 0.25;

/**
 * Finds listeners from which the potentials on all panels, and all fluxes, follow, for sources beyond a plane in front.
 *
 * @param plane z of the plane, in the coil's frame
 * @param height from the foremost panel to the plane, m, > 0
 * @param spacing distance of the stand-in sources on the plane, m
 * @param tolerance see `interpolativeDecomposition`
 * The sources are stood in for by point charges on the plane over and around the side, sparser far out.
 */
export function findSkeleton(
  listeners: Listeners,
  plane: number,
  height: number,
  spacing: number,
  tolerance: number,
): Skeleton {
  const { panels, members, loops, loopMembers } = listeners;
  if (members + loopMembers === 0) return fullSkeleton(listeners);
  const sources = standIns(listeners, plane, height, spacing);
  const rows = sources.length / 3;
  const eligible = members + loopMembers;
  const matrix = new Float64Array((eligible + loopMembers) * rows);
  for (let p = 0; p < members; p++) {
    for (let r = 0; r < rows; r++) {
      matrix[p * rows + r] = pointPotential(panels, p, sources[3 * r]!, sources[3 * r + 1]!, sources[3 * r + 2]!);
    }
  }
  for (let l = 0; l < loopMembers; l++) {
    const step = LOOP_STEP * loops!.size[l]!;
    const weight = height / (2 * step);
    const at = (members + l) * rows;
    for (let r = 0; r < rows; r++) {
      const x = sources[3 * r]!;
      const y = sources[3 * r + 1]!;
      const z = sources[3 * r + 2]!;
      matrix[at + r] = weight * (pointPotential(loops!, l, x, y, z + step) - pointPotential(loops!, l, x, y, z - step));
      const dx = loops!.centre[3 * l]! - x;
      const dy = loops!.centre[3 * l + 1]! - y;
      const dz = loops!.centre[3 * l + 2]! - z;
      const r2 = dx * dx + dy * dy + dz * dz;
      matrix[at + loopMembers * rows + r] = (loops!.area[l]! * dz) / (4 * Math.PI * r2 * Math.sqrt(r2));
    }
  }
  const found = interpolativeDecomposition(matrix, rows, eligible + loopMembers, tolerance, eligible);
  const { rank: quarter, chosen, coefficients } = found;
  return {
    ...place(listeners, chosen, height),
    quarter,
    coefficients: coefficients.slice(0, members * quarter),
    loopCoefficients: coefficients.slice(eligible * quarter),
  };
}

/** Every panel and loop listens for itself: for sources that may be anywhere. */
export function fullSkeleton(listeners: Listeners): Skeleton {
  const { members, loops, loopMembers } = listeners;
  const quarter = members + loopMembers;
  const unit = 1e-3;
  const coefficients = new Float64Array(members * quarter);
  for (let k = 0; k < members; k++) coefficients[k * quarter + k] = 1;
  const loopCoefficients = new Float64Array(loopMembers * quarter);
  for (let l = 0; l < loopMembers; l++) loopCoefficients[l * quarter + members + l] = loops!.area[l]! / unit;
  const all = Int32Array.from({ length: quarter }, (_, k) => k);
  return { ...place(listeners, all, unit), quarter, coefficients, loopCoefficients };
}

/** No listeners: for a side alone with its own coil. */
export function emptySkeleton(listeners: Listeners): Skeleton {
  const none = new Float64Array(0);
  return { ...place(listeners, new Int32Array(0), 1), quarter: 0, coefficients: none, loopCoefficients: none };
}

/** Panels of the chosen listeners in all four images; a loop hears `height` times the mean normal field. */
function place(
  listeners: Listeners,
  chosen: Int32Array,
  height: number,
): Pick<Skeleton, 'panels' | 'second' | 'weight'> {
  const { panels, members, loops, loopMembers } = listeners;
  const quarter = chosen.length;
  const set = allocatePanels(4 * (quarter + chosen.filter((k) => k >= members).length));
  const second = new Int32Array(4 * quarter).fill(-1);
  const weight = new Float64Array(4 * quarter).fill(1);
  const corners = new Float64Array(12);
  let next = 4 * quarter;
  for (let g = 0; g < 4; g++) {
    for (let s = 0; s < quarter; s++) {
      const k = chosen[s]!;
      const at = g * quarter + s;
      if (k < members) {
        const p = 12 * (g * members + k);
        setPanel(set, at, panels.corner.subarray(p, p + 12));
        continue;
      }
      const l = g * loopMembers + (k - members);
      const step = LOOP_STEP * loops!.size[l]!;
      weight[at] = height / (2 * step);
      second[at] = next;
      for (const [panel, lift] of [
        [at, -step],
        [next++, step],
      ] as const) {
        for (let i = 0; i < 12; i++) corners[i] = loops!.corner[12 * l + i]! + (i % 3 === 2 ? lift : 0);
        setPanel(set, panel, corners);
      }
    }
  }
  return { panels: set, second, weight };
}

/** Points on the plane, x y z. */
function standIns(listeners: Listeners, plane: number, height: number, spacing: number): Float64Array {
  const { panels, members, loops, loopMembers } = listeners;
  let halfWidth = 0;
  let halfHeight = 0;
  const reach = (set: PanelSet, count: number) => {
    for (let p = 0; p < count; p++) {
      halfWidth = Math.max(halfWidth, Math.abs(set.centre[3 * p]!));
      halfHeight = Math.max(halfHeight, Math.abs(set.centre[3 * p + 1]!));
    }
  };
  reach(panels, members);
  if (loops) reach(loops, loopMembers);
  const line = (half: number) => {
    const steps = Math.ceil((half + height) / spacing);
    const even = Array.from({ length: steps + 1 }, (_, i) => ((half + height) * (i + 0.25)) / steps);
    for (let k = 1, w = Math.max(spacing, height); k <= 7; k++, w *= 1.8) even.push(even[even.length - 1]! + w);
    return even.flatMap((v) => [v, -v]);
  };
  const xs = line(halfWidth);
  const ys = line(halfHeight);
  return Float64Array.from(xs.flatMap((a) => ys.flatMap((b) => [a, b, plane])));
}
