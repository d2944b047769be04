import { exactMargin } from '../../../src/analysis/hold/hold-margins.ts';
import { linkAtPose } from '../../../src/analysis/link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../../../src/analysis/link/link-context.ts';
import { demandOf } from '../../../src/design/demand.ts';
import type { Design } from '../../../src/design/types.ts';

/** Margin over the wanted one at a place, %, by direct solution: fine plates with ferrite, exact circuit, waking. */
export function slackAt(design: Design, radiusMm: number, degrees: number): number {
  const angle = (degrees * Math.PI) / 180;
  const placement = {
    ...design.placement,
    offsetXMm: radiusMm * Math.cos(angle),
    offsetYMm: radiusMm * Math.sin(angle),
  };
  const moved = { ...design, placement };
  const { electrical } = linkAtPose(linkContext(moved), poseOfDesign(moved), 'fine');
  return exactMargin(moved, electrical, demandOf(moved).demandA) - design.demand.wantedMarginPercent;
}
