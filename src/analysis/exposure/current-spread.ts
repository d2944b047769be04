import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { solveOperatingPoint } from '../../physics/circuit/operating-point.ts';
import type { Boards, LinkElectrical } from '../../physics/circuit/types.ts';
import type { CoilCurrents } from '../../physics/exposure/link-field.ts';
import { linkAtPose } from '../link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../link/link-context.ts';
import type { PlateSensitivity } from '../margin/plate-sensitivity.ts';
import { chargesCell } from '../margin/pose-answer.ts';
import { toleranceEnds } from '../margin/tolerance-ends.ts';
import { tolerancesOf } from '../margin/tolerances.ts';

/**
 * How far a quantity that hangs on the coil currents alone may lie below and above its value, relative, 95 %: each uncertain input
 * is moved to both ends of its tolerance and the circuit solved again (first harmonic: the changes are wanted, not the values);
 * changes combine as independent. A tolerance that puts the receiver to sleep stops the field and counts as no change.
 *
 * @param of the quantity for given currents, above 0
 */
export function currentSpread(
  design: Design,
  plates: readonly PlateSensitivity[],
  of: (currents: CoilCurrents) => number,
): { readonly less: number; readonly more: number } {
  const context = linkContext(design);
  const pose = poseOfDesign(design);
  const boards = boardsOf(design);
  const { demandA } = demandOf(design);
  const charging = chargesCell(design, demandOf(design));
  const gapM = design.placement.gapMm / 1e3;
  const at = (by: number): LinkElectrical =>
    linkAtPose(context, { ...pose, z: pose.z + Math.max(by, -0.9 * gapM) }, 'coarse').electrical;
  const here = at(0);
  const value = (link: LinkElectrical, with_: Boards): number => {
    const point = solveOperatingPoint(link, with_, demandA, { tier: 'fast', charging, awake: true });
    return of({
      transmitterA: point.transmitterCoilA,
      receiverA: point.receiverCoilA,
      correlation: point.currentCorrelation,
    });
  };
  const base = value(here, boards);
  if (!(base > 0)) return { less: 0, more: 0 };
  let less = 0;
  let more = 0;
  for (const tolerance of tolerancesOf(design)) {
    const changes = toleranceEnds(design, tolerance, here, boards, plates, at)
      .map(([link, with_]) => value(link, with_) / base - 1)
      .filter(Number.isFinite);
    less = Math.hypot(less, Math.min(0, ...changes));
    more = Math.hypot(more, Math.max(0, ...changes));
  }
  return { less, more };
}
