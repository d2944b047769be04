import { describe, expect, test } from 'vitest';
import { linkAtPose } from '../../../src/analysis/link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../../../src/analysis/link/link-context.ts';
import { benchLink, benchPose, benchPoses, designAt, shiftedLink } from '../../../src/analysis/prove/bench-links.ts';
import { stateAt } from '../../../src/analysis/prove/bench-state.ts';
import { linkOnLine, reachPoses } from '../../../src/analysis/prove/reach-line.ts';
import { boardsOf } from '../../../src/design/to-si.ts';
import { airDesign, withReadings } from './synthetic-bench.ts';

const design = airDesign();
const NONE = { l1: 1, l2: 1, coupling: 1, r1: 1, r2: 1 };

function direct(gapMm: number, xMm: number) {
  const moved = designAt(design, benchPose(gapMm, xMm, 0));
  return linkAtPose(linkContext(design), poseOfDesign(moved), 'fine').electrical;
}

describe('one field solution per place', () => {
  test('small errors of gap and offset follow a direct solution to 1e-3, both at once to 2e-3', () => {
    const link = benchLink(design, benchPose(5, 10, 0));
    for (const [gap, offset] of [
      [0.2, 0],
      [-0.4, 0.7],
      [0.5, -1],
    ]) {
      const wanted = direct(5 + gap, 10 + offset);
      const got = shiftedLink(link, gap / 1e3, offset / 1e3, NONE);
      expect(Math.abs(got.m / wanted.m - 1)).toBeLessThan(gap !== 0 && offset !== 0 ? 2e-3 : 1e-3);
      expect(got.l1).toBeCloseTo(wanted.l1, 12);
    }
  });
  test('scales: M follows the root of both inductances and the coupling', () => {
    const link = benchLink(design, benchPose(5, 0, 0));
    const got = shiftedLink(link, 0, 0, { l1: 1.04, l2: 0.98, coupling: 1.1, r1: 2, r2: 1 });
    const base = link.electrical;
    expect(got.m / base.m).toBeCloseTo(1.1 * Math.sqrt(1.04 * 0.98), 12);
    expect(got.r1.dc / base.r1.dc).toBeCloseTo(2, 12);
    expect(got.r2).toEqual(base.r2);
  });
  test('readings at the same place share it', () => {
    const read = withReadings(design, [
      { supplyV: 5, outputA: 0.1, gapMm: 5 },
      { supplyV: 9, outputA: 0.1, gapMm: 5 },
      { supplyV: 5, outputA: 0.1, gapMm: 5, offsetXMm: 3 },
    ]);
    const { poses, poseOf } = benchPoses(read);
    expect(poses.map(({ name }) => name)).toEqual(['5 mm gap', '5 mm gap, 3 mm off']);
    expect(poseOf).toEqual([0, 0, 1]);
  });
});

test('between the nodes of a reach line the link follows a direct solution to 5e-4 of the centred M', () => {
  const { x } = reachPoses(design);
  const line = { axis: 'x' as const, atMm: x.map(({ xMm }) => xMm), links: x.map((pose) => benchLink(design, pose)) };
  const state = stateAt(boardsOf(design), [], []);
  const centre = direct(5, 0).m;
  const linkAt = linkOnLine(line, state);
  for (const at of [1.3, 5.7, 9.1, 13.2, 17, 20.4]) {
    const error = Math.abs(linkAt(at).m - direct(5, at).m) / centre;
    expect(error, `${at} mm`).toBeLessThan(5e-4);
  }
});
