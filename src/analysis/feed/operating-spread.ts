import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { solveOperatingPoint } from '../../physics/circuit/operating-point.ts';
import type { Boards, LinkElectrical, Losses } from '../../physics/circuit/types.ts';
import { linkAtPose } from '../link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../link/link-context.ts';
import type { PlateSensitivity } from '../margin/plate-sensitivity.ts';
import { chargesCell } from '../margin/pose-answer.ts';
import { toleranceEnds } from '../margin/tolerance-ends.ts';
import { tolerancesOf } from '../margin/tolerances.ts';

/** What of an operating point gets a band. */
export type SpreadKey =
  | keyof Losses
  /** Power that enters each stretch, W. */
  | 'supplyW'
  | 'transmitterBoardW'
  | 'transmitterCoilW'
  | 'receiverCoilW'
  | 'rectifierW'
  | 'regulatorW'
  | 'supplyA'
  | 'frequencyHz'
  | 'efficiency'
  | 'receiverC'
  | 'cellC'
  | 'transmitterC';

/** How far each quantity may lie below and above what was computed, in its own unit, 95 %. */
export interface OperatingSpread {
  readonly less: Readonly<Record<SpreadKey, number>>;
  readonly more: Readonly<Record<SpreadKey, number>>;
}

type Values = Record<SpreadKey, number>;

/**
 * The bands of the operating point at the demand: each uncertain input is moved to both ends of its tolerance and the
 * circuit solved again (tier fast: the changes are wanted, not the values); changes combine as independent. The gap's ends
 * come from the plates' coarse grids.
 *
 * @param plates how the link answers to the plates' tolerances; empty leaves them out
 */
export function operatingSpread(design: Design, plates: readonly PlateSensitivity[]): OperatingSpread {
  const context = linkContext(design);
  const pose = poseOfDesign(design);
  const boards = boardsOf(design);
  const demand = demandOf(design);
  const charging = chargesCell(design, demand);
  const gapM = design.placement.gapMm / 1e3;
  const at = (by: number): LinkElectrical =>
    linkAtPose(context, { ...pose, z: pose.z + Math.max(by, -0.9 * gapM) }, 'coarse').electrical;
  const here = at(0);
  const solve = (link: LinkElectrical, with_: Boards): Values => {
    const point = solveOperatingPoint(link, with_, demand.demandA, { tier: 'fast', charging });
    const { losses } = point;
    const regulatorW = point.outputV * point.outputA + losses.regulator;
    const rectifierW = regulatorW + losses.rectifier;
    const receiverCoilW = rectifierW + losses.receiverCoil;
    const transmitterCoilW = receiverCoilW + losses.transmitterCoil;
    const transmitterBoardW = transmitterCoilW + losses.transmitterIdle + losses.bridge;
    return {
      ...losses,
      supplyW: transmitterBoardW + losses.supply,
      transmitterBoardW,
      transmitterCoilW,
      receiverCoilW,
      rectifierW,
      regulatorW,
      supplyA: point.supplyA,
      frequencyHz: point.frequency,
      efficiency: point.efficiency,
      receiverC: point.receiverC,
      cellC: point.cellC,
      transmitterC: point.transmitterC,
    };
  };
  const base = solve(here, boards);
  const keys = Object.keys(base) as SpreadKey[];
  const less = Object.fromEntries(keys.map((key) => [key, 0])) as Values;
  const more = { ...less };
  for (const tolerance of tolerancesOf(design)) {
    const [up, down] = toleranceEnds(design, tolerance, here, boards, plates, at).map(([link, with_]) =>
      solve(link, with_),
    );
    for (const key of keys) {
      const changes = [up[key] - base[key], down[key] - base[key]].filter(Number.isFinite);
      less[key] = Math.hypot(less[key], Math.min(0, ...changes));
      more[key] = Math.hypot(more[key], Math.max(0, ...changes));
    }
  }
  return { less, more };
}
