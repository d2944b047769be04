import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { InputError } from '../../numerics/errors.ts';
import { solveOperatingPoint } from '../../physics/circuit/operating-point.ts';
import type { LinkElectrical, LinkState } from '../../physics/circuit/types.ts';
import { couplingOf } from '../link/link-at-pose.ts';
import { contextOf, poseOfDesign } from '../link/link-context.ts';
import type { LinkModel } from '../link/link-model.ts';
import { bandAtPose, linkNear } from '../margin/band-at-pose.ts';
import { fastOutput } from '../margin/fast-output.ts';
import { marginPercent } from '../margin/margin-percent.ts';
import type { PlateSensitivity } from '../margin/plate-sensitivity.ts';
import { chargesCell } from '../margin/pose-answer.ts';
import type { SweepAxis } from '../types.ts';

/** One point of a line. NaN and no state where the pose cannot be (parts would touch) or is too close to be solved. */
export interface SweepPoint {
  readonly at: number;
  readonly maxOutputA: number;
  readonly marginPercent: number;
  readonly marginLowPercent: number;
  readonly marginHighPercent: number;
  readonly coupling: number;
  readonly mutualInductanceH: number;
  readonly transmitterInductanceH: number;
  readonly receiverInductanceH: number;
  readonly efficiency: number;
  readonly frequencyHz: number;
  readonly state: LinkState | null;
  /** Relative half-widths of the current. */
  readonly less: number;
  readonly more: number;
  /** What its circuit is solved with. */
  readonly link: LinkElectrical | null;
}

const PLACEMENT_KEY = Object.freeze({
  gap: 'gapMm',
  offsetX: 'offsetXMm',
  offsetY: 'offsetYMm',
  yaw: 'yawDeg',
  tiltX: 'tiltXDeg',
  tiltY: 'tiltYDeg',
} as const);

/** The design with one coordinate of its placement replaced; a gap that leaves the stack is the user's question, not a fault. */
export function designAt(design: Design, axis: SweepAxis, value: number): Design {
  return { ...design, placement: { ...design.placement, [PLACEMENT_KEY[axis]]: value } };
}

/** Solves one point of a line with its band, by first harmonic; `line-correction.ts` brings the exact circuit in. */
export function sweepPoint(
  design: Design,
  axis: SweepAxis,
  value: number,
  model: LinkModel | null,
  plates: readonly PlateSensitivity[],
): SweepPoint {
  const here = designAt(design, axis, value);
  const context = contextOf(here, model);
  const boards = boardsOf(here);
  const demand = demandOf(here);
  const charging = chargesCell(here, demand);
  const pose = poseOfDesign(here);
  try {
    const { electrical } = linkNear(context, model, pose);
    const most = fastOutput([electrical], boards, { charging })[0]!;
    const band = bandAtPose(design, context, model, pose, plates, charging);
    const point = solveOperatingPoint(electrical, boards, demand.demandA, { tier: 'fast', charging });
    return {
      at: value,
      maxOutputA: most,
      marginPercent: marginPercent(most, demand.demandA),
      marginLowPercent: marginPercent(most * (1 - band.less), demand.demandA),
      marginHighPercent: marginPercent(most * (1 + band.more), demand.demandA),
      coupling: couplingOf(electrical),
      mutualInductanceH: electrical.m,
      transmitterInductanceH: electrical.l1,
      receiverInductanceH: electrical.l2,
      efficiency: point.efficiency,
      frequencyHz: point.frequency,
      state: point.state,
      less: band.less,
      more: band.more,
      link: electrical,
    };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const none = Number.NaN;
    return {
      at: value,
      maxOutputA: none,
      marginPercent: none,
      marginLowPercent: none,
      marginHighPercent: none,
      coupling: none,
      mutualInductanceH: none,
      transmitterInductanceH: none,
      receiverInductanceH: none,
      efficiency: none,
      frequencyHz: none,
      state: null,
      less: none,
      more: none,
      link: null,
    };
  }
}
