import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { InputError } from '../../numerics/errors.ts';
import { fastOutput } from '../margin/fast-output.ts';
import { linkAtPose } from './link-at-pose.ts';
import { plainRoughContext } from './link-context.ts';
import { type Attitude, grownDomain, type LinkDomain, startingDomain } from './link-domain.ts';
import { linkModelKey, passPoses, poseAt } from './link-model.ts';
import { LINK_PASSES, type LinkPass, ROUGH_PASS } from './link-passes.ts';
import { PLATE_OUTPUTS } from './plates.ts';

/** What has to be solved for a link model: plain data. */
export interface ModelPlan {
  readonly key: string;
  readonly domain: LinkDomain;
  readonly attitude: Attitude;
  /** Poses of the first model's pass, and of each pass of the full one. */
  readonly roughCount: number;
  readonly passCounts: readonly number[];
  readonly outputs: number;
  readonly hasPlates: boolean;
}

/** Margin below which the box is large enough, in parts of the demand. */
const FAR_ENOUGH = -0.2;
const GROWTH = 1.35;
const MOST_GROWTH_STEPS = 3;

export function attitudeOf(design: Design): Attitude {
  const { yawDeg, tiltXDeg, tiltYDeg } = design.placement;
  const radians = Math.PI / 180;
  return { yaw: yawDeg * radians, tiltX: tiltXDeg * radians, tiltY: tiltYDeg * radians };
}

/** Chooses the box of a link model: grown until the margin at its corners and edges is below -20 %, at the design's gap. */
export function planModel(design: Design): ModelPlan {
  const context = plainRoughContext(design);
  const attitude = attitudeOf(design);
  const gap = design.placement.gapMm / 1e3;
  const boards = boardsOf(design);
  const { demandA } = demandOf(design);
  let domain = startingDomain(context.transmitter, context.receiver, gap, attitude);
  const enough = (x: number, y: number): boolean => {
    try {
      const link = linkAtPose(context, poseAt(context, attitude, x, y, gap), 'rough');
      return fastOutput([link.electrical], boards, { ignoreThermal: true })[0]! < demandA * (1 + FAR_ENOUGH);
    } catch (error) {
      if (error instanceof InputError) return true;
      throw error;
    }
  };
  for (let step = 0; step < MOST_GROWTH_STEPS; step++) {
    const { halfX, halfY } = domain;
    if (
      [
        [halfX, 0],
        [0, halfY],
        [-halfX, 0],
        [0, -halfY],
      ].every(([x, y]) => enough(x!, y!))
    )
      break;
    domain = grownDomain(domain, GROWTH);
  }
  const poses = (pass: LinkPass): number => passPoses(context, attitude, domain, pass).length / 3;
  return {
    key: linkModelKey(context, attitude, domain),
    domain,
    attitude,
    roughCount: poses(ROUGH_PASS),
    passCounts: LINK_PASSES.map(poses),
    outputs: PLATE_OUTPUTS,
    hasPlates: context.plates !== null,
  };
}
