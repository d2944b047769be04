import { beforeAll, describe, expect, it } from 'vitest';
import { largestTilt } from '../../../src/analysis/link/attitude-grid.ts';
import {
  type AttitudePart,
  assembleAttitudePart,
  attitudeCovers,
  attitudePoses,
  attitudeStep,
  boundAttitudePart,
  carriesTo,
  changeAtAttitude,
  modelAtAttitude,
  solveAttitudePoses,
} from '../../../src/analysis/link/attitude-part.ts';
import { linkContext } from '../../../src/analysis/link/link-context.ts';
import {
  assembleLinkModel,
  boundLinkModel,
  type LinkModel,
  modelChange,
  passPoses,
  poseAt,
  solvePassPoses,
} from '../../../src/analysis/link/link-model.ts';
import { LINK_PASSES } from '../../../src/analysis/link/link-passes.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import { randomSource } from '../../../src/numerics/random.ts';

/** The demo's coils on the transmitter's square tile alone: everything turns and tilts, at a third of the work. */
function oneTile() {
  const parsed = parseDesign(DEMO_DESIGN);
  if (!parsed.ok) throw new Error('the demo design must parse');
  const design = structuredClone(parsed.design);
  design.receiver.ferrite = null;
  design.receiver.metal = null;
  return design;
}

const LEVEL = { yaw: 0, tiltX: 0, tiltY: 0 };
const KEYS = ['dL1', 'dL2', 'dM'] as const;

describe('how the plates answer to the attitude', () => {
  const context = linkContext(oneTile());
  const domain = { halfX: 12e-3, halfY: 12e-3, gapMin: 3e-3, gapMax: 9e-3 };
  let model: LinkModel;
  let part: AttitudePart;

  beforeAll(() => {
    // The coarse pass alone: the part is a difference of coarse solves, to be checked against such.
    const passes = [solvePassPoses(context, LEVEL, passPoses(context, LEVEL, domain, LINK_PASSES[0]!), 'coarse')];
    model = boundLinkModel(context, assembleLinkModel(context, LEVEL, domain, passes));
    const values = (which: 'turned' | 'tilted') => solveAttitudePoses(context, attitudePoses(context, domain, which));
    const both = { turned: values('turned'), tilted: values('tilted') };
    part = boundAttitudePart(context, model, assembleAttitudePart(context, domain, both));
  });

  it('agrees with direct solves at attitudes that were no samples and no held-out ones', () => {
    const random = randomSource(9017);
    const either = (half: number) => half * (2 * random.uniform() - 1);
    for (let n = 0; n < 20; n++) {
      const gap = domain.gapMin * (domain.gapMax / domain.gapMin) ** random.uniform();
      const most = n % 2 === 0 ? 0 : largestTilt(part.radius, gap);
      const attitude = { yaw: either(Math.PI), tiltX: either(most), tiltY: either(most) };
      const pose = poseAt(context, attitude, either(domain.halfX), either(domain.halfY), gap);
      const direct = context.plates!.at(pose, 'coarse');
      const carried = changeAtAttitude(model, part, pose);
      for (const [i, key] of KEYS.entries()) {
        // Twenty poses against the largest of eight.
        expect(Math.abs(carried[key] - direct[key]), `${key}, seed 9017, pose ${n}`).toBeLessThan(2.5 * part.bound[i]!);
      }
    }
  });

  it('states a bound that is there, and far below what the attitude does', () => {
    let most = 0;
    for (const yaw of [0.4, 0.8, 1.2]) {
      most = Math.max(most, Math.abs(attitudeStep(part, 8e-3, 4e-3, 4e-3, LEVEL, { ...LEVEL, yaw })[2]!));
    }
    expect(part.bound[2]).toBeGreaterThan(0);
    expect(part.bound[2]).toBeLessThan(0.15 * most);
    expect(part.bound[0]).toBeLessThan(3e-3 * context.l1.value);
  });

  it('carries a whole model to another attitude', () => {
    const attitude = { yaw: 0.5, tiltX: 0.02, tiltY: -0.01 };
    const carried = modelAtAttitude(context, model, part, attitude, 5e-3)!;
    expect(carried.attitude).toEqual(attitude);
    expect(carried.even).toEqual({ x: false, y: false });
    expect(carried.domain.gapMin).toBeGreaterThanOrEqual(domain.gapMin);
    const pose = poseAt(context, attitude, 5e-3, -3e-3, 5e-3);
    const direct = changeAtAttitude(model, part, pose);
    const read = modelChange(carried, pose);
    for (const key of KEYS) expect(Math.abs(read[key] - direct[key])).toBeLessThan(5e-4 * context.l1.value);
  });

  it('keeps the mirror: the image of a pose has the same link', () => {
    const a = attitudeStep(part, 5e-3, 3e-3, 4e-3, LEVEL, { yaw: 0.3, tiltX: 0.03, tiltY: 0.01 });
    const b = attitudeStep(part, -5e-3, 3e-3, 4e-3, LEVEL, { yaw: -0.3, tiltX: 0.03, tiltY: -0.01 });
    const c = attitudeStep(part, 5e-3, 3e-3, 4e-3, LEVEL, { yaw: 0.3 + Math.PI, tiltX: 0.03, tiltY: 0.01 });
    a.forEach((value, j) => {
      const scale = 1e-6 * Math.abs(value) + 1e-15;
      // The cross sample has no image among the samples, so the mirror holds as well as the quadratic does.
      expect(Math.abs(b[j]! - value)).toBeLessThan(0.05 * Math.abs(value) + 1e-15);
      expect(Math.abs(c[j]! - value)).toBeLessThan(scale);
    });
    const turned = { ...LEVEL, yaw: 0.7 };
    const d = attitudeStep(part, 5e-3, 3e-3, 4e-3, LEVEL, turned);
    const e = attitudeStep(part, 5e-3, -3e-3, 4e-3, LEVEL, { ...LEVEL, yaw: -0.7 });
    for (const j of [0, 1, 2]) expect(Math.abs(e[j]! - d[j]!)).toBeLessThan(1e-6 * Math.abs(d[j]!) + 1e-15);
  });

  it('knows what it covers: no steeper tilt, and none at all before tilts are solved', () => {
    const at = (attitude: Partial<typeof LEVEL>, gap = 5e-3) => poseAt(context, { ...LEVEL, ...attitude }, 0, 0, gap);
    const most = largestTilt(part.radius, 5e-3);
    expect(attitudeCovers(part, at({ yaw: 3 }))).toBe(true);
    expect(attitudeCovers(part, at({ tiltX: 0.99 * most }))).toBe(true);
    expect(attitudeCovers(part, at({ tiltX: 1.01 * most }))).toBe(false);
    expect(attitudeCovers(part, at({}, 10e-3))).toBe(false);
    expect(carriesTo(context, model, { ...LEVEL, tiltX: 0.02 }, 6e-3)).toBe(true);
    expect(carriesTo(context, model, { ...LEVEL, tiltX: 0.2 }, 6e-3)).toBe(false);
    const none = assembleAttitudePart(context, domain, { turned: null, tilted: null });
    expect(attitudeCovers(none, at({ tiltX: 0.001 }))).toBe(false);
    expect(modelAtAttitude(context, model, none, { ...LEVEL, tiltX: 0.01 }, 5e-3)).toBeNull();
  });

  it('solves each pose once, whatever its mirror images', () => {
    const turned = attitudePoses(context, domain, 'turned').length / 6;
    // Nine by nine places at four gaps and eight turns, in orbits of up to four.
    expect(turned).toBeLessThan((9 * 9 * 4 * 8) / 3);
    expect(turned).toBeGreaterThanOrEqual((9 * 9 * 4 * 8) / 4);
  });
});
