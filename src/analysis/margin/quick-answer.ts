import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { couplingOf, linkAtPose } from '../link/link-at-pose.ts';
import { poseOfDesign, roughLinkContext } from '../link/link-context.ts';
import { type LinkModel, linkFromModel, linkModelKey, modelCovers } from '../link/link-model.ts';
import { attitudeOf } from '../link/model-plan.ts';
import type { QuickAnswer } from '../types.ts';
import { fastOutput } from './fast-output.ts';
import { marginPercent } from './margin-percent.ts';
import { chargesCell } from './pose-answer.ts';

/**
 * k and margin for the hand: from the link model where it fits the design and covers the pose, else the plates' rough
 * grids, which are ready in a fraction of a second and put k within 1 %.
 */
export function quickAnswer(design: Design, model: LinkModel | null): QuickAnswer {
  const context = roughLinkContext(design);
  const pose = poseOfDesign(design);
  const fits =
    model !== null && model.key === linkModelKey(context, attitudeOf(design), model.domain) && modelCovers(model, pose);
  const { electrical } = fits ? linkFromModel(context, model, pose) : linkAtPose(context, pose, 'rough');
  const demand = demandOf(design);
  const current = fastOutput([electrical], boardsOf(design), { charging: chargesCell(design, demand) })[0]!;
  return {
    coupling: couplingOf(electrical),
    mutualInductanceH: electrical.m,
    maxOutputA: current,
    marginPercent: marginPercent(current, demand.demandA),
    from: fits ? 'model' : 'direct',
  };
}
