import { demandOf } from '../../design/demand.ts';
import type { Design } from '../../design/types.ts';
import { bracketedRoot } from '../../numerics/bracketed-root.ts';
import { exactMargin } from '../hold/hold-margins.ts';
import { linkAtPose } from '../link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../link/link-context.ts';

/** How far the map's border may be off, mm, and how closely it is settled. */
const DOUBT_MM = 2;
const TOLERANCE_MM = 0.02;

/**
 * Where the wanted margin ends in one direction, by direct solutions (fine plates, exact circuit, waking) around the place
 * that a map gives; the map's own where they find no border within 2 mm of it.
 *
 * @param directionDeg from +x
 */
export function settledReach(design: Design, fromMapMm: number, directionDeg: number): number {
  if (!(fromMapMm > 0)) return 0;
  const angle = (directionDeg * Math.PI) / 180;
  const context = linkContext(design);
  const { demandA } = demandOf(design);
  const slack = (radiusMm: number): number => {
    const placement = {
      ...design.placement,
      offsetXMm: radiusMm * Math.cos(angle),
      offsetYMm: radiusMm * Math.sin(angle),
    };
    const { electrical } = linkAtPose(context, poseOfDesign({ ...design, placement }), 'fine');
    return exactMargin(design, electrical, demandA) - design.demand.wantedMarginPercent;
  };
  const low = Math.max(0, fromMapMm - DOUBT_MM);
  const high = fromMapMm + DOUBT_MM;
  const [slackLow, slackHigh] = [slack(low), slack(high)];
  if (!(slackLow > 0 && slackHigh < 0)) return fromMapMm;
  const root = bracketedRoot(slack, low, high, slackLow, slackHigh, { xTolerance: TOLERANCE_MM, maxEvaluations: 12 });
  return root.converged ? root.value : fromMapMm;
}
