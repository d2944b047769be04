import type { Design } from '../../design/types.ts';
import { fitChebyshevTensor } from '../../numerics/chebyshev.ts';
import { type LinkContext, linkContext } from '../link/link-context.ts';
import { type Attitude, type LinkDomain, mirrorSymmetry } from '../link/link-domain.ts';
import { type LinkModel, linkModelKey, passPoses, poseAt, solvePassPoses } from '../link/link-model.ts';
import type { LinkPass } from '../link/link-passes.ts';
import { planModel } from '../link/model-plan.ts';
import { PLATE_OUTPUTS, packChange } from '../link/plates.ts';
import { Lru } from '../lru.ts';
import { gapToleranceMm } from '../margin/tolerances.ts';

/** A third of the poses of a full model's first pass: offsets as there, gaps only as far as the gap's tolerance. */
const NARROW_PASS: LinkPass = { level: 'coarse', counts: [6, 6, 3] };

const models = new Lru<LinkModel>(4);

/** What must be solved for a candidate's model: plain data. */
export interface NarrowPlan {
  readonly domain: LinkDomain;
  readonly attitude: Attitude;
  readonly poses: number;
  /** Numbers for each pose. */
  readonly outputs: number;
}

/** The box of a candidate's model: sideways as `planModel` has it, gaps within the tolerance of the design's own. */
export function narrowPlan(design: Design): NarrowPlan {
  const { domain, attitude } = planModel(design);
  const gap = design.placement.gapMm / 1e3;
  const by = Math.max(gapToleranceMm(design) / 1e3, 0.02 * gap);
  const narrow = { ...domain, gapMin: Math.max(gap - by, 0.1 * gap), gapMax: gap + by };
  return {
    domain: narrow,
    attitude,
    poses: passPoses(linkContext(design), attitude, narrow, NARROW_PASS).length / 3,
    outputs: PLATE_OUTPUTS,
  };
}

/** Solves poses `from` to `to` on the coarse grids. [to - from, PLATE_OUTPUTS] row-major */
export function narrowPoses(design: Design, plan: NarrowPlan, from: number, to: number): Float64Array {
  const context = linkContext(design);
  const poses = passPoses(context, plan.attitude, plan.domain, NARROW_PASS).subarray(3 * from, 3 * to);
  return solvePassPoses(context, plan.attitude, poses, 'coarse');
}

/**
 * A link model good for maps at the design's own gap.
 *
 * The coarse grids' values over the box are scaled by what the fine grids give over the coarse ones with the receiver
 * centred: the grids' error follows the change itself closely. Accuracy (demo, 16 held-out poses up to 15 mm off centre
 * against fine direct solves): see README.md.
 */
export function narrowModel(design: Design, plan: NarrowPlan, values: Float64Array): LinkModel {
  const context = linkContext(design);
  // The values follow from the rest; the models of a run are asked for once for each chunk of it.
  const key = `${linkModelKey(context, plan.attitude, plan.domain)} narrow ${design.placement.gapMm}`;
  return models.obtain(key, () => builtModel(context, design, plan, values, key));
}

function builtModel(
  context: LinkContext,
  design: Design,
  plan: NarrowPlan,
  values: Float64Array,
  key: string,
): LinkModel {
  const even = mirrorSymmetry(context.transmitter, context.receiver, plan.attitude);
  const { gapMin, gapMax } = plan.domain;
  const axis = (isEven: boolean, count: number): [number, number] => (isEven ? [0, count] : [-1, 2 * count - 1]);
  const [lowX, countX] = axis(even.x, NARROW_PASS.counts[0]);
  const [lowY, countY] = axis(even.y, NARROW_PASS.counts[1]);
  const share = fineShare(context, plan.attitude, design.placement.gapMm / 1e3);
  const scaled = values.map((value, at) => value * share[at % PLATE_OUTPUTS]!);
  return {
    key,
    domain: plan.domain,
    attitude: plan.attitude,
    thickness: context.transmitter.winding.halfThickness + context.receiver.winding.halfThickness,
    even,
    tensor: context.plates
      ? fitChebyshevTensor(
          scaled,
          [lowX, lowY, Math.log(gapMin)],
          [1, 1, Math.log(gapMax)],
          [countX, countY, NARROW_PASS.counts[2]],
          PLATE_OUTPUTS,
        )
      : null,
    level: 'fine',
    bound: [0, 0, 0],
  };
}

/** Fine over coarse of each output, centred. */
function fineShare(context: LinkContext, attitude: Attitude, gap: number): Float64Array {
  const { plates } = context;
  if (!plates) return new Float64Array(PLATE_OUTPUTS).fill(1);
  const pose = poseAt(context, attitude, 0, 0, gap);
  const coarse = packChange(plates.at(pose, 'coarse'), new Float64Array(PLATE_OUTPUTS));
  const fine = packChange(plates.at(pose, 'fine'), new Float64Array(PLATE_OUTPUTS));
  return fine.map((value, i) => (coarse[i] === 0 ? 1 : value / coarse[i]!));
}
