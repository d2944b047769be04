import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { maxOutput } from '../../physics/circuit/max-output.ts';
import type { LinkElectrical } from '../../physics/circuit/types.ts';
import { wakingAt } from '../../physics/circuit/wake.ts';
import { linkContext } from '../link/link-context.ts';
import { type LinkModel, poseAt } from '../link/link-model.ts';
import { linkNear } from '../margin/band-at-pose.ts';
import { chargesCell } from '../margin/pose-answer.ts';
import type { Uncertain } from '../types.ts';

/** What one gap gives under one supply, exact circuit. */
export interface GapPoint {
  readonly gapMm: number;
  readonly maxOutputA: number;
  /** Rectified voltage at the ping over what the receiver needs to wake. */
  readonly wakeRatio: number;
}

/** How far apart: up to which gap the wanted margin is held, and up to which the receiver wakes. */
export interface GapReach {
  readonly holdMm: Uncertain;
  readonly wakeMm: number;
  /** The search ends before the reach does: it is more than what is given. */
  readonly beyond: boolean;
}

/** The link at a gap and the design's own offset: from the model, beyond its box on the coarse grids. */
export function linkAtGap(design: Design, model: LinkModel, gapMm: number): LinkElectrical {
  const context = linkContext(design);
  const { offsetXMm, offsetYMm } = design.placement;
  const pose = poseAt(context, model.attitude, offsetXMm / 1e3, offsetYMm / 1e3, gapMm / 1e3);
  return linkNear(context, model, pose).electrical;
}

/** Solves one gap under the design's supply: one chunk of work, some 60 ms. */
export function supplyGapPoint(design: Design, electrical: LinkElectrical, gapMm: number): GapPoint {
  const boards = boardsOf(design);
  const charging = chargesCell(design, demandOf(design));
  return {
    gapMm,
    maxOutputA: maxOutput(electrical, boards, { charging }).current,
    wakeRatio: wakingAt(electrical, boards, 'exact').rectifiedV / boards.pickup.wakeV,
  };
}

/** Gaps are followed up to the larger of this and four times the design's own, mm. */
const FURTHEST_MM = 40;

/** Gaps to solve first, mm: from the design's own outwards, evenly in the logarithm. */
export function gapScan(design: Design, points = 11): number[] {
  const from = design.placement.gapMm;
  const to = Math.max(FURTHEST_MM, 4 * from);
  return Array.from({ length: points }, (_, i) => from * (to / from) ** (i / (points - 1)));
}

/**
 * Where the current leaves the wanted margin for the last time going apart, by interpolation: the gap to
 * solve next, mm; null where no point of the scan holds, or all do.
 */
export function nextGap(design: Design, points: readonly GapPoint[]): number | null {
  const neededA = wantedA(design);
  const crossing = lastHeld(points, (point) => point.maxOutputA / neededA - 1);
  return crossing === null || !Number.isFinite(crossing) ? null : crossing;
}

/**
 * The reaches from solved gaps (any order). The band follows from the current's own: the gap at which the current less and
 * more its half-width meets the need, on the same curve.
 *
 * @param less @param more relative half-widths of the current, 95 %
 */
export function gapReach(design: Design, points: readonly GapPoint[], less: number, more: number): GapReach {
  const neededA = wantedA(design);
  const at = (factor: number): number => lastHeld(points, (point) => (factor * point.maxOutputA) / neededA - 1) ?? 0;
  const wake = lastHeld(points, (point) => point.wakeRatio - 1) ?? 0;
  const furthest = Math.max(...points.map(({ gapMm }) => gapMm));
  const capped = (value: number): number => Math.min(value, furthest);
  const value = at(1);
  return {
    holdMm: { value: capped(value), low: capped(at(1 - less)), high: capped(at(1 + more)) },
    wakeMm: capped(wake),
    beyond: !Number.isFinite(value),
  };
}

/** The demand with the wanted margin, A. */
function wantedA(design: Design): number {
  return demandOf(design).demandA * (1 + design.demand.wantedMarginPercent / 100);
}

/** Gap at which the slack first falls below zero going apart from the nearest point; null: not held there; Infinity: never. */
function lastHeld(points: readonly GapPoint[], slackOf: (point: GapPoint) => number): number | null {
  const sorted = [...points].sort((a, b) => a.gapMm - b.gapMm);
  let before: GapPoint | null = null;
  for (const point of sorted) {
    const slack = slackOf(point);
    if (slack < 0) {
      if (before === null) return null;
      const held = slackOf(before);
      return before.gapMm + ((point.gapMm - before.gapMm) * held) / (held - slack);
    }
    before = point;
  }
  return Number.POSITIVE_INFINITY;
}
