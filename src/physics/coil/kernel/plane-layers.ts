import { chebyshevPoints } from '../../../numerics/chebyshev.ts';
import type { FilamentRule } from './filament-rule.ts';
import type { PlaneCurrents } from './plane-spectrum.ts';

/** A winding as flat currents: each planform lies in one or more planes. Metres. */
export interface PlaneLayer {
  readonly currents: PlaneCurrents;
  readonly heights: readonly number[];
  /** What sloping pieces carry along z; null in flat layers. Belongs to the same places. */
  readonly rising: Float64Array | null;
}

/** Planes that stand for everything between the lowest and the highest sloping piece. */
const SLOPE_PLANES = 4;

/**
 * Splits nodes into planes, turned by `yaw` about z. Planes with the same planform (the usual layers) become one entry.
 * Sloping pieces, which only true spirals have, are shared out over four planes by interpolation in z.
 */
export function planeLayers(rule: FilamentRule, yaw: number): readonly PlaneLayer[] {
  const { nodes, planes, looseFrom } = rule;
  const cos = Math.cos(yaw);
  const sin = Math.sin(yaw);
  const part = (from: number, to: number, share: (z: number) => number): PlaneCurrents => {
    const row = () => new Float64Array(to - from);
    const out = { x: row(), y: row(), dx: row(), dy: row() };
    for (let k = from; k < to; k++) {
      const weight = share(nodes.z[k]!);
      out.x[k - from] = cos * nodes.x[k]! - sin * nodes.y[k]!;
      out.y[k - from] = sin * nodes.x[k]! + cos * nodes.y[k]!;
      out.dx[k - from] = weight * (cos * nodes.dx[k]! - sin * nodes.dy[k]!);
      out.dy[k - from] = weight * (sin * nodes.dx[k]! + cos * nodes.dy[k]!);
    }
    return out;
  };

  const layers: { currents: PlaneCurrents; heights: number[]; rising: Float64Array | null }[] = [];
  for (const { z, from, to } of planes) {
    const currents = part(from, to, () => 1);
    const same = layers.find((layer) => equal(layer.currents, currents));
    if (same) same.heights.push(z);
    else layers.push({ currents, heights: [z], rising: null });
  }
  if (looseFrom === nodes.count) return layers;

  const loose = nodes.z.subarray(looseFrom);
  const points = chebyshevPoints(SLOPE_PLANES, Math.min(...loose), Math.max(...loose));
  points.forEach((height, index) => {
    const share = (z: number): number =>
      points.reduce((product, other, k) => (k === index ? product : (product * (z - other)) / (height - other)), 1);
    const rising = Float64Array.from(loose, (z, k) => share(z) * nodes.dz[looseFrom + k]!);
    layers.push({ currents: part(looseFrom, nodes.count, share), heights: [height], rising });
  });
  return layers;
}

function equal(a: PlaneCurrents, b: PlaneCurrents): boolean {
  const same = (p: Float64Array, q: Float64Array) => p.length === q.length && p.every((value, k) => value === q[k]);
  return same(a.x, b.x) && same(a.y, b.y) && same(a.dx, b.dx) && same(a.dy, b.dy);
}
