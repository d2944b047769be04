/** Whether the worst region is as bad as it says: places and attitudes between its corners, solved directly. */
import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { randomSource } from '../../numerics/random.ts';
import { maxOutput } from '../../physics/circuit/max-output.ts';
import { linkAtPose } from '../link/link-at-pose.ts';
import { linkContext } from '../link/link-context.ts';
import { poseAt } from '../link/link-model.ts';
import { marginPercent } from '../margin/margin-percent.ts';
import { chargesCell } from '../margin/pose-answer.ts';
import { type AllowedPlace, type AttitudeRange, attitudeRange } from './attitude-range.ts';
import { mapLookup } from './batch-lookup.ts';
import type { HoldLayer } from './hold-layer.ts';
import { scalarSlack } from './lottery-report.ts';
import { worstRegion } from './region-report.ts';
import type { WorstPlace } from './worst-check-sum.ts';

/** Places solved, and the seed they are drawn with. */
const CHECKED = Object.freeze({ places: 10, seed: 71 });

/** A random place of what is allowed: turn even over its range, gap and tilts inside their common limit. */
function drawAllowed(range: AttitudeRange, uniform: () => number): AllowedPlace {
  const either = () => 2 * uniform() - 1;
  let shares = [1, 1, 1];
  while (shares.reduce((sum, share) => sum + Math.abs(share), 0) > 1) shares = [either(), either(), either()];
  const [gap, tiltX, tiltY] = shares as [number, number, number];
  const { nominalMm, thinnestMm, thickestMm } = range;
  return {
    gapMm: nominalMm + (gap > 0 ? gap * (thickestMm - nominalMm) : gap * (nominalMm - thinnestMm)),
    yaw: either() * range.yaw,
    tiltX: tiltX * range.tiltX,
    tiltY: tiltY * range.tiltY,
  };
}

/**
 * Places on the outline of the worst region, where it counts: every other one at the corner of what is allowed that is worst
 * there, the others at a random gap and attitude between the corners. None where nothing is safe.
 */
export function worstPlaces(design: Design, layers: readonly HoldLayer[]): WorstPlace[] {
  const worst = layers.filter((layer) => layer.use === 'worst');
  const found = worstRegion(design, worst);
  const ring = found?.region.outline[0];
  if (!found || !ring) return [];
  const { xMm, yMm, margin } = found;
  const lookUp = scalarSlack(mapLookup({ xMm, yMm, yaw: Float64Array.of(0), values: margin }));
  const range = attitudeRange(design);
  const random = randomSource(CHECKED.seed);
  const points = ring.length / 2;
  return Array.from({ length: CHECKED.places }, (_, k) => {
    const at = Math.floor((k / CHECKED.places) * points);
    const [x, y] = [ring[2 * at]!, ring[2 * at + 1]!];
    const drawn = drawAllowed(range, () => random.uniform());
    return { xMm: x, yMm: y, ...(k % 2 === 0 ? worstCorner(worst, x, y) : drawn), worstPercent: lookUp(x, y, 0) };
  }).filter(({ worstPercent }) => Number.isFinite(worstPercent));
}

/** Gap and attitude of the layer with the least margin at the grid point nearest to an offset, mm. */
function worstCorner(layers: readonly HoldLayer[], x: number, y: number): AllowedPlace {
  const { xMm, yMm } = layers[0]!;
  const nearest = (axis: Float64Array, value: number) =>
    axis.reduce((best, at, k) => (Math.abs(at - value) < Math.abs(axis[best]! - value) ? k : best), 0);
  const at = nearest(yMm, y) * xMm.length + nearest(xMm, x);
  const { gapMm, yaw, tiltX, tiltY } = layers.reduce((a, b) => (b.marginPercent[at]! < a.marginPercent[at]! ? b : a));
  return { gapMm, yaw, tiltX, tiltY };
}

/** Margin at such a place by the plates' fine grids and the exact circuit, percent. */
export function directAt(design: Design, { xMm, yMm, gapMm, yaw, tiltX, tiltY }: WorstPlace): number {
  const context = linkContext(design);
  const { yawDeg, tiltXDeg, tiltYDeg } = design.placement;
  const radians = Math.PI / 180;
  const attitude = {
    yaw: yawDeg * radians + yaw,
    tiltX: tiltXDeg * radians + tiltX,
    tiltY: tiltYDeg * radians + tiltY,
  };
  const pose = poseAt(context, attitude, xMm / 1e3, yMm / 1e3, gapMm / 1e3);
  const demand = demandOf(design);
  const { electrical } = linkAtPose(context, pose, 'fine');
  const { current } = maxOutput(electrical, boardsOf(design), { charging: chargesCell(design, demand) });
  return marginPercent(current, demand.demandA);
}
