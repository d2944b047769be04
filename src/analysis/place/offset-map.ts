import { demandOf } from '../../design/demand.ts';
import type { Design } from '../../design/types.ts';
import { type Condition, safeRegion } from '../hold/safe-region.ts';
import type { LinkModel } from '../link/link-model.ts';
import { marginPercent } from '../margin/margin-percent.ts';
import type { OffsetMap } from '../types.ts';
import { type MapCheck, spreadChecks } from './map-check.ts';
import type { MapCircuit } from './map-circuit.ts';
import type { OffsetGrid } from './offset-grid.ts';

/** The map from its grid, the circuit's answers and the checks: outlines, reaches and their bands. */
export function finishOffsetMap(
  design: Design,
  model: LinkModel,
  grid: OffsetGrid,
  circuit: MapCircuit,
  checks: readonly MapCheck[],
  timing: Omit<OffsetMap['timing'], 'totalMs'>,
): OffsetMap {
  const demand = demandOf(design);
  const { regulator } = design.receiver.pickup;
  const wakeV = design.receiver.pickup.wakeV;
  const wanted = design.demand.wantedMarginPercent;
  const { xMm, yMm } = grid;
  const spread = spreadChecks(model, xMm, yMm, checks, grid.m);
  const corrected = (values: Float64Array): Float64Array =>
    values.map((current, at) =>
      Math.min(Math.max(0, current + spread.difference[at]!), Math.max(current, regulator.currentLimitA)),
    );
  const maxOutputA = corrected(circuit.maxOutputA);
  const peakOutputA = corrected(circuit.peakOutputA);
  const marginOf = (values: Float64Array, demandA: number): Float64Array =>
    values.map((current) => marginPercent(current, demandA));
  const margin = marginOf(maxOutputA, demand.demandA);
  const over = (values: Float64Array, level: number, name: string): Condition => ({
    name,
    slack: values.map((value) => value - level),
    smooth: true,
  });
  const pingV = circuit.wakeV.map((value, at) => value * spread.wakeRatio[at]!);
  const awake = over(pingV, wakeV, 'waking');
  const region = safeRegion(xMm, yMm, [over(margin, wanted, 'margin'), awake]);
  const holds = safeRegion(xMm, yMm, [over(margin, 0, 'margin')]);
  const waking = safeRegion(xMm, yMm, [awake]);
  const banded = (sign: -1 | 1, part: Float64Array): number =>
    safeRegion(xMm, yMm, [
      over(
        marginOf(
          maxOutputA.map((current, at) => current * (1 + sign * part[at]!)),
          demand.demandA,
        ),
        wanted,
        'margin',
      ),
      awake,
    ]).reachMm;
  return {
    gapMm: design.placement.gapMm,
    xMm,
    yMm,
    maxOutputA,
    peakOutputA,
    marginPercent: margin,
    coupling: grid.m.map((m, at) => m / Math.sqrt(grid.l1[at]! * grid.l2[at]!)),
    mutualInductanceH: grid.m,
    wakes: Uint8Array.from(pingV, (value) => (value >= wakeV ? 1 : 0)),
    demandA: demand.demandA,
    wantedMarginPercent: wanted,
    safeOutline: region.outline,
    collapseOutline: holds.outline,
    wakeOutline: waking.outline,
    reachMm: {
      value: region.reachMm,
      low: Math.min(region.reachMm, banded(-1, spread.less)),
      high: Math.max(region.reachMm, banded(1, spread.more)),
    },
    holdReachMm: holds.reachMm,
    wakeReachMm: waking.reachMm,
    innerLimitMm:
      region.restIsSafe || region.outline.length === 0 ? 0 : (region.inner.fromMm ?? region.inner.nearestMm),
    peakReachMm: demand.peaks.map((peak) => ({
      name: peak.name,
      reachMm: safeRegion(xMm, yMm, [over(marginOf(peakOutputA, peak.currentA), 0, 'margin'), awake]).reachMm,
    })),
    tightestDeg: region.tightestDeg,
    firstLook: model.level === 'rough',
    timing: { ...timing, totalMs: 0 },
  };
}
