import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { maxOutput } from '../../physics/circuit/max-output.ts';
import { type Condition, flagCondition, safeRegion } from '../hold/safe-region.ts';

import { linkContext } from '../link/link-context.ts';
import { type LinkModel, linkFromModel, poseAt } from '../link/link-model.ts';
import { bandAtPose } from '../margin/band-at-pose.ts';
import { chargesCell, marginPercent } from '../margin/pose-answer.ts';
import type { OffsetMap } from '../types.ts';
import type { MapCircuit } from './map-circuit.ts';
import type { OffsetGrid } from './offset-grid.ts';

/** Offsets along each axis at which the band is worked out; between them it is interpolated. */
const BAND_POINTS = 5;

/**
 * The map from its grid and the circuit's answers: outlines, reaches and their bands.
 * The reach's band comes from the band of the current, worked out at a few offsets and interpolated.
 */
export function finishOffsetMap(
  design: Design,
  model: LinkModel,
  grid: OffsetGrid,
  circuit: MapCircuit,
  timing: Omit<OffsetMap['timing'], 'totalMs'>,
): OffsetMap {
  const demand = demandOf(design);
  const wanted = design.demand.wantedMarginPercent;
  const { xMm, yMm } = grid;
  const { maxOutputA, peakOutputA, wakes } = circuit;
  const margin = Float64Array.from(maxOutputA, (current) => marginPercent(current, demand.demandA));
  const awake = flagCondition('wakes', wakes);
  const above = (level: number, values: Float64Array = margin): Condition => ({
    name: 'margin',
    slack: Float64Array.from(values, (value) => value - level),
    smooth: true,
  });
  const region = safeRegion(xMm, yMm, [above(wanted), awake]);
  const holds = safeRegion(xMm, yMm, [above(0), awake]);
  const collapse = safeRegion(xMm, yMm, [above(0)]);
  const waking = safeRegion(xMm, yMm, [awake]);
  const bands = bandGrid(design, model, xMm, yMm);
  const shifted = (part: 'less' | 'more', sign: -1 | 1): Float64Array =>
    Float64Array.from(maxOutputA, (current, at) =>
      marginPercent(current * (1 + sign * bands[part][at]!), demand.demandA),
    );
  const low = safeRegion(xMm, yMm, [above(wanted, shifted('less', -1)), awake]);
  const high = safeRegion(xMm, yMm, [above(wanted, shifted('more', 1)), awake]);
  return {
    gapMm: design.placement.gapMm,
    xMm,
    yMm,
    maxOutputA,
    marginPercent: margin,
    coupling: Float64Array.from(grid.m, (m, at) => m / Math.sqrt(grid.l1[at]! * grid.l2[at]!)),
    mutualInductanceH: grid.m,
    wakes,
    demandA: demand.demandA,
    wantedMarginPercent: wanted,
    safeOutline: region.outline,
    collapseOutline: collapse.outline,
    wakeOutline: waking.outline,
    reachMm: {
      value: region.reachMm,
      low: Math.min(low.reachMm, region.reachMm),
      high: Math.max(high.reachMm, region.reachMm),
    },
    holdReachMm: holds.reachMm,
    wakeReachMm: waking.reachMm,
    innerLimitMm:
      region.restIsSafe || region.outline.length === 0 ? 0 : (region.inner.fromMm ?? region.inner.nearestMm),
    peakReachMm: demand.peaks.map((peak) => ({
      name: peak.name,
      reachMm: safeRegion(xMm, yMm, [
        above(
          0,
          Float64Array.from(peakOutputA, (current) => marginPercent(current, peak.currentA)),
        ),
        awake,
      ]).reachMm,
    })),
    tightestDeg: region.tightestDeg,
    timing: { ...timing, totalMs: 0 },
  };
}

/** Relative half-widths of the current over the grid. */
function bandGrid(
  design: Design,
  model: LinkModel,
  xMm: Float64Array,
  yMm: Float64Array,
): { less: Float64Array; more: Float64Array } {
  const context = linkContext(design);
  const boards = boardsOf(design);
  const charging = chargesCell(design, demandOf(design));
  const gap = design.placement.gapMm / 1e3;
  const { even, attitude } = model;
  const nodes = (axis: Float64Array): number[] =>
    Array.from(
      { length: BAND_POINTS },
      (_, i) => axis[0]! + ((axis[axis.length - 1]! - axis[0]!) * i) / (BAND_POINTS - 1),
    );
  const xs = nodes(xMm);
  const ys = nodes(yMm);
  const cache = new Map<string, { less: number; more: number }>();
  const at = (x: number, y: number): { less: number; more: number } => {
    const key = `${even.x ? Math.abs(x) : x},${even.y ? Math.abs(y) : y}`;
    const known = cache.get(key);
    if (known) return known;
    const pose = poseAt(context, attitude, x / 1e3, y / 1e3, gap);
    const link = linkFromModel(context, model, pose);
    // Far outside nothing is delivered: the band there is that of the last offset that delivers something.
    const delivers = maxOutput(link.electrical, boards, { tier: 'fast', charging }).current > 0;
    const band = delivers ? bandAtPose(design, context, model, pose, charging) : { less: 0, more: 0 };
    cache.set(key, band);
    return band;
  };
  const table = ys.map((y) => xs.map((x) => at(x, y)));
  const less = new Float64Array(xMm.length * yMm.length);
  const more = new Float64Array(less.length);
  for (let j = 0, index = 0; j < yMm.length; j++) {
    const v = position(yMm, j);
    for (let i = 0; i < xMm.length; i++, index++) {
      const u = position(xMm, i);
      const [i0, j0] = [Math.min(BAND_POINTS - 2, Math.floor(u)), Math.min(BAND_POINTS - 2, Math.floor(v))];
      const [fx, fy] = [u - i0, v - j0];
      const mix = (part: 'less' | 'more'): number =>
        (table[j0]![i0]![part] * (1 - fx) + table[j0]![i0 + 1]![part] * fx) * (1 - fy) +
        (table[j0 + 1]![i0]![part] * (1 - fx) + table[j0 + 1]![i0 + 1]![part] * fx) * fy;
      less[index] = mix('less');
      more[index] = mix('more');
    }
  }
  return { less, more };
}

/** Where a grid line lies among the band's nodes, 0 to BAND_POINTS - 1. */
function position(axis: Float64Array, index: number): number {
  const span = axis[axis.length - 1]! - axis[0]!;
  return span === 0 ? 0 : ((axis[index]! - axis[0]!) / span) * (BAND_POINTS - 1);
}
