import { describe, expect, it } from 'vitest';
import {
  assembleAttitudes,
  attitudePart,
  attitudePoseCount,
  solveAttitudes,
} from '../../../src/analysis/hold/attitude-change.ts';
import { attitudeRange } from '../../../src/analysis/hold/attitude-range.ts';
import { linkContext } from '../../../src/analysis/link/link-context.ts';
import { type LinkModel, poseAt } from '../../../src/analysis/link/link-model.ts';
import type { Design } from '../../../src/design/types.ts';
import { randomSource } from '../../../src/numerics/random.ts';
import { demo, RECESS } from './demo-design.ts';
import { plainLink } from './plain-link.ts';

const SEED = 3;
const TURN = 0.37;

/** The demo with its ferrites; its cell is left out, which would only cost time. */
const base = demo({ recess: RECESS });
const design: Design = { ...base, receiver: { ...base.receiver, metal: null } };
const context = linkContext(design);
/** Only the box and the symmetry of a model are asked for. */
const model = {
  domain: { halfX: 0.018, halfY: 0.018, gapMin: 1e-3, gapMax: 15e-3 },
  attitude: { yaw: 0, tiltX: 0, tiltY: 0 },
  even: { x: true, y: true },
  tensor: {},
} as unknown as LinkModel;
const count = attitudePoseCount(design, model, TURN);
const change = assembleAttitudes(design, model, TURN, solveAttitudes(design, model, TURN, 0, count));
const range = attitudeRange(design);
const gap = design.placement.gapMm / 1e3;

/** Largest change of L1, L2, M and air's M at random places, and what is left of it after the polynomial. */
function compare(attitudes: (either: () => number) => { yaw: number; tiltX: number; tiltY: number }) {
  const random = randomSource(SEED);
  const either = () => 2 * random.uniform() - 1;
  const most = { change: 0, left: 0, air: 0, airLeft: 0 };
  for (let k = 0; k < 10; k += 1) {
    const [x, y] = [0.016 * either(), 0.016 * either()];
    const at = attitudes(either);
    const level = poseAt(context, { yaw: 0, tiltX: 0, tiltY: 0 }, x, y, gap);
    const turned = poseAt(context, at, x, y, gap);
    const before = context.plates!.at(level, 'coarse');
    const after = context.plates!.at(turned, 'coarse');
    const part = attitudePart(change, at)!(x, y);
    for (const key of ['dL1', 'dL2', 'dM'] as const) {
      most.change = Math.max(most.change, Math.abs(after[key] - before[key]));
      most.left = Math.max(most.left, Math.abs(after[key] - before[key] - part.change[key]));
    }
    const air = context.kernel.mutual(turned).value - context.kernel.mutual({ ...turned, tiltX: 0, tiltY: 0 }).value;
    most.air = Math.max(most.air, Math.abs(air));
    most.airLeft = Math.max(most.airLeft, Math.abs(air - part.airM));
  }
  return most;
}

describe(`what a turn and a tilt do to the link, against direct solves on the same grids (seed ${SEED}, 10 poses each)`, () => {
  it('turns up to the largest: what is left is below a thousandth of L, the link model’s own bound, and a fifth of the change', () => {
    const { change: all, left, airLeft, air } = compare((either) => ({ yaw: TURN * either(), tiltX: 0, tiltY: 0 }));
    expect(all).toBeGreaterThan(1e-8);
    expect(left).toBeLessThan(1e-3 * (context.l1.value + context.plates!.alone('coarse').dL1));
    expect(left).toBeLessThan(0.2 * all);
    // The coils' own part of a turn is the map's, exactly.
    expect(air).toBe(0);
    expect(airLeft).toBe(0);
  });

  it('tilts up to the wedge, about both axes at once: at most a tenth is left, of the coils’ own part too', () => {
    const most = compare((either) => ({ yaw: 0, tiltX: range.tiltX * either(), tiltY: range.tiltY * either() }));
    expect(most.change).toBeGreaterThan(2e-9);
    expect(most.left).toBeLessThan(0.1 * most.change);
    expect(most.air).toBeGreaterThan(2e-9);
    expect(most.airLeft).toBeLessThan(0.1 * most.air);
  });

  it('turn and tilt together, as a recess and a stack allow them', () => {
    const most = compare((either) => ({
      yaw: range.yaw * either(),
      tiltX: range.tiltX * either(),
      tiltY: range.tiltY * either(),
    }));
    expect(most.left).toBeLessThan(0.15 * most.change);
  });

  it('mirror images are solved once: 16 level places, 25 for each turn, 28 for each tilt', () => {
    expect(count).toBe(16 + 2 * 25 + 2 * 28);
    expect(attitudePoseCount(design, { ...model, even: { x: false, y: false } }, TURN)).toBe(9 * 49);
    // A wider box has more nodes, 13 along each axis.
    const wide = { ...model, domain: { ...model.domain, halfX: 0.036, halfY: 0.036 }, even: { x: false, y: false } };
    expect(attitudePoseCount(design, wide, TURN)).toBe(9 * 169);
  });
});

describe('without plates', () => {
  const plain = plainLink({ recess: RECESS });
  it('only tilts are solved, and only the coils’ mutual inductance changes', () => {
    const poses = attitudePoseCount(plain.design, plain.model, TURN);
    // Its box takes 11 nodes along each axis.
    expect(poses).toBe(36 + 2 * 66);
    const air = assembleAttitudes(
      plain.design,
      plain.model,
      TURN,
      solveAttitudes(plain.design, plain.model, TURN, 0, poses),
    );
    expect(attitudePart(air, { yaw: 0.2, tiltX: 0, tiltY: 0 })).toBeNull();
    const part = attitudePart(air, { yaw: 0, tiltX: 0, tiltY: air.tilted.at(-1)!.tiltY })!(0.008, 0.003);
    expect(part.airM).not.toBe(0);
    expect(part.change.dM).toBe(0);
  });
});
