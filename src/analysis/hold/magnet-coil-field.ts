/** The coils' alternating field where the magnets sit: what heats them. */
import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { solveOperatingPoint } from '../../physics/circuit/operating-point.ts';
import { createFieldModel } from '../../physics/field/field-model.ts';
import { linkAtPose } from '../link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../link/link-context.ts';
import { chargesCell } from '../margin/pose-answer.ts';

export interface CoilFieldAtMagnets {
  /** Largest peak flux density over all magnets, T. */
  readonly peakT: number;
  readonly frequencyHz: number;
}

/**
 * Peak flux density of both coils' field at the centre of each magnet, the largest of them, at the operating point of the
 * worst continuous load with the receiver at home. Ferrite and metal of both sides are in it, the magnets themselves are not.
 *
 * The receiver's current runs about a quarter period behind the transmitter's at resonance, so that the two fields add as
 * root of squares. Null without magnets or where the link carries no current.
 * @throws InputError as the link does.
 */
export function coilFieldAtMagnets(design: Design): CoilFieldAtMagnets | null {
  const { magnets } = design.holding;
  if (!magnets) return null;
  const context = linkContext(design);
  const pose = poseOfDesign(design);
  const demand = demandOf(design);
  const { electrical } = linkAtPose(context, pose, 'coarse');
  const point = solveOperatingPoint(electrical, boardsOf(design), demand.demandA, {
    charging: chargesCell(design, demand),
  });
  if (!(point.transmitterCoilA > 0) || !Number.isFinite(point.frequency)) return null;
  const points = magnetCentres(design, context.transmitter.winding.halfThickness);
  const field = createFieldModel(context.transmitter, context.receiver, { frequency: context.middleFrequency });
  const first = field.fieldAt(pose, Math.SQRT2 * point.transmitterCoilA, 0, points);
  const second = field.fieldAt(pose, 0, Math.SQRT2 * point.receiverCoilA, points);
  let most = 0;
  for (let p = 0; p < points.length; p += 3)
    most = Math.max(most, Math.hypot(first[p], first[p + 1], first[p + 2], second[p], second[p + 1], second[p + 2]));
  return { peakT: most, frequencyHz: point.frequency };
}

/**
 * Centres of all magnets in the transmitter's frame, [n, 3], m: the middle of their gap lies in the middle of the coils' gap;
 * steel in the dock is not heated here.
 */
function magnetCentres(design: Design, halfThickness: number): Float64Array {
  const { magnets } = design.holding;
  if (!magnets) return new Float64Array(0);
  const { offsetXMm, offsetYMm, yawDeg, gapMm } = design.placement;
  const yaw = (yawDeg * Math.PI) / 180;
  const middle = halfThickness + gapMm / 2e3;
  const away = (magnets.gapMm + magnets.thicknessMm) / 2e3;
  const out: number[] = [];
  for (const [xMm, yMm] of magnets.positionsMm) {
    const x = (offsetXMm + xMm * Math.cos(yaw) - yMm * Math.sin(yaw)) / 1e3;
    const y = (offsetYMm + xMm * Math.sin(yaw) + yMm * Math.cos(yaw)) / 1e3;
    out.push(x, y, middle + away);
    if (magnets.facing === 'magnet') out.push(x, y, middle - away);
  }
  return Float64Array.from(out);
}
