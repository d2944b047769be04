import { beforeAll, describe, expect, it } from 'vitest';
import { linkAtPose } from '../../../src/analysis/link/link-at-pose.ts';
import { linkContext } from '../../../src/analysis/link/link-context.ts';
import {
  assembleLinkModel,
  boundLinkModel,
  type LinkModel,
  linkFromModel,
  modelAtGap,
  modelChange,
  modelCovers,
  passPoses,
  poseAt,
  solvePassPoses,
} from '../../../src/analysis/link/link-model.ts';
import { LINK_PASSES } from '../../../src/analysis/link/link-passes.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import { randomSource } from '../../../src/numerics/random.ts';

/** The demo's coils on the transmitter's ferrite alone: plates that answer, at half the work. */
function oneFerrite() {
  const parsed = parseDesign(DEMO_DESIGN);
  if (!parsed.ok) throw new Error('the demo design must parse');
  const design = structuredClone(parsed.design);
  design.receiver.ferrite = null;
  design.receiver.metal = null;
  return design;
}

describe('link model', () => {
  const context = linkContext(oneFerrite());
  const attitude = { yaw: 0, tiltX: 0, tiltY: 0 };
  const domain = { halfX: 15e-3, halfY: 15e-3, gapMin: 3e-3, gapMax: 12e-3 };
  let coarse: LinkModel;
  let fine: LinkModel;

  beforeAll(() => {
    const passes = LINK_PASSES.map((pass) =>
      solvePassPoses(context, attitude, passPoses(context, attitude, domain, pass), pass.level),
    );
    coarse = assembleLinkModel(context, attitude, domain, passes.slice(0, 1));
    fine = boundLinkModel(context, assembleLinkModel(context, attitude, domain, passes));
  });

  it('agrees with direct solutions at poses that were no nodes and no held-out ones', () => {
    const random = randomSource(7001);
    for (let n = 0; n < 6; n++) {
      const x = domain.halfX * (2 * random.uniform() - 1);
      const y = domain.halfY * (2 * random.uniform() - 1);
      const gap = domain.gapMin * (domain.gapMax / domain.gapMin) ** random.uniform();
      const pose = poseAt(context, attitude, x, y, gap);
      const direct = linkAtPose(context, pose, 'fine');
      const fitted = linkFromModel(context, fine, pose);
      for (const key of ['l1', 'l2', 'm'] as const) {
        // Six poses against the largest of four: a factor of three, and what the thicker conductors of the direct solution add to M.
        const allowed = 3 * Math.max(...fine.bound) + 5e-4 * Math.abs(direct.electrical.m);
        expect(Math.abs(fitted.electrical[key] - direct.electrical[key]), `${key} at ${x}, ${y}, ${gap}`).toBeLessThan(
          allowed,
        );
      }
    }
  });

  it('states a bound that is there and small', () => {
    const { electrical } = linkAtPose(context, poseAt(context, attitude, 0, 0, 6e-3), 'fine');
    expect(fine.bound[0]).toBeGreaterThan(0);
    expect(fine.bound[0]).toBeLessThan(2e-3 * electrical.l1);
    expect(fine.bound[2]).toBeLessThan(5e-3 * electrical.m);
    expect(coarse.bound).toEqual([0, 0, 0]);
  });

  it('is even in x and y for a mirror-symmetric pair, and its cut at a gap is itself', () => {
    const cut = modelAtGap(fine, 5e-3);
    const here = modelChange(fine, poseAt(context, attitude, 4e-3, 2e-3, 5e-3));
    const there = modelChange(fine, poseAt(context, attitude, -4e-3, -2e-3, 5e-3));
    expect(there.dM).toBe(here.dM);
    expect(Math.abs(cut(4e-3, 2e-3).dM - here.dM)).toBeLessThan(1e-12 * Math.abs(here.dM) + 1e-20);
  });

  it('knows what it covers', () => {
    expect(modelCovers(fine, poseAt(context, attitude, 0, 0, 5e-3))).toBe(true);
    expect(modelCovers(fine, poseAt(context, attitude, 16e-3, 0, 5e-3))).toBe(false);
    expect(modelCovers(fine, poseAt(context, { ...attitude, yaw: 0.1 }, 0, 0, 5e-3))).toBe(false);
  });
});
