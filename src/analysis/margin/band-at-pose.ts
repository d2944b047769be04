import type { Design } from '../../design/types.ts';
import type { Pose } from '../../physics/coil/types.ts';
import { type LinkAtPose, linkAtPose } from '../link/link-at-pose.ts';
import type { LinkContext } from '../link/link-context.ts';
import { type LinkModel, linkFromModel, modelCovers } from '../link/link-model.ts';
import { type OutputBand, outputBand } from './output-band.ts';
import type { PlateSensitivity } from './plate-sensitivity.ts';
import { tolerancesOf } from './tolerances.ts';

/** The link from the model where it covers the pose, else solved: on the coarse grids, or the rough ones of a rough model. */
export function linkNear(context: LinkContext, model: LinkModel | null, pose: Pose): LinkAtPose {
  if (model && modelCovers(model, pose)) return linkFromModel(context, model, pose);
  return linkAtPose(context, pose, model?.level === 'rough' ? 'rough' : 'coarse');
}

/** Band of the largest output current at any pose, read from the link model. */
export function bandAtPose(
  design: Design,
  context: LinkContext,
  model: LinkModel | null,
  pose: Pose,
  plates: readonly PlateSensitivity[],
  charging: boolean,
): OutputBand {
  const tolerances = tolerancesOf(design);
  const gap = tolerances.find((tolerance) => tolerance.enters.kind === 'gap');
  const by = gap?.enters.kind === 'gap' ? gap.enters.by : 0;
  const clear = pose.z - context.transmitter.winding.halfThickness - context.receiver.winding.halfThickness;
  const moved = (shift: number): LinkAtPose =>
    linkNear(context, model, { ...pose, z: pose.z + Math.max(shift, -0.9 * clear) });
  return outputBand(
    {
      design,
      link: linkNear(context, model, pose),
      wider: moved(by),
      narrower: moved(-by),
      plates,
      charging,
    },
    tolerances,
  );
}
