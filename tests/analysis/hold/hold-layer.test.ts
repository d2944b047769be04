import { describe, expect, it } from 'vitest';
import { assembleAttitudes, attitudePoseCount, solveAttitudes } from '../../../src/analysis/hold/attitude-change.ts';
import { attitudeRange } from '../../../src/analysis/hold/attitude-range.ts';
import { holdLayer, layerPlans } from '../../../src/analysis/hold/hold-layer.ts';
import { linkContext } from '../../../src/analysis/link/link-context.ts';
import { poseAt } from '../../../src/analysis/link/link-model.ts';
import { fastOutput } from '../../../src/analysis/margin/fast-output.ts';
import { marginPercent } from '../../../src/analysis/margin/margin-percent.ts';
import { boardsOf } from '../../../src/design/to-si.ts';
import { demo, RECESS } from './demo-design.ts';
import { plainLink } from './plain-link.ts';

describe('layerPlans', () => {
  it('turns at the gap, ends of the stack, seven gaps for the volume', () => {
    const plans = layerPlans(demo({ recess: RECESS }));
    const of = (use: string) => plans.filter((plan) => plan.use === use);
    expect(of('turns').map((p) => p.gapMm)).toEqual([5.9, 5.9, 5.9, 5.9, 5.9]);
    expect(of('turns')[2].yaw).toBe(0);
    // Two and a half sigma of the casual turn, up to the next rung of a ladder.
    const scatter = (2.5 * demo().holding.placing.sigmaYawDeg * Math.PI) / 180;
    expect(of('turns')[4].yaw).toBeGreaterThanOrEqual(scatter);
    expect(of('turns')[4].yaw).toBeLessThan(1.25 * scatter);
    // Level at the ends of the stack and at its nominal thickness, wedges at the nominal one; each at no turn and both turns.
    expect(of('worst').length).toBe(21);
    const level = of('worst').filter((p) => p.tiltX === 0 && p.tiltY === 0);
    const gaps = [...new Set(level.map((p) => p.gapMm))].sort((a, b) => a - b);
    expect(gaps).toHaveLength(3);
    expect(gaps[0]).toBeLessThan(5.9);
    expect(gaps[1]).toBe(5.9);
    expect(gaps[2]).toBeGreaterThan(5.9);
    const wedges = of('worst').filter((p) => p.tiltX !== 0 || p.tiltY !== 0);
    expect(wedges).toHaveLength(12);
    expect(wedges.every((p) => p.gapMm === 5.9 && (p.tiltX === 0 || p.tiltY === 0))).toBe(true);
    expect(of('volume')).toHaveLength(7);
  });
  it('without a stack the design’s own gap is the worst', () => {
    const design = { ...demo(), stack: [] };
    expect(
      new Set(
        layerPlans(design)
          .filter((p) => p.use === 'worst')
          .map((p) => p.gapMm),
      ),
    ).toEqual(new Set([5.9]));
  });
});

describe('holdLayer', () => {
  const { design, model } = plainLink();
  const layer = holdLayer(design, model, { use: 'turns', gapMm: 5.9, yaw: 0.1, tiltX: 0, tiltY: 0, points: 9 });

  it('holds the margin of the link turned and moved, point by point', () => {
    const context = linkContext(design);
    const boards = boardsOf(design);
    for (const [i, j] of [
      [4, 4],
      [6, 3],
      [1, 7],
    ]) {
      const pose = poseAt(context, { yaw: 0.1, tiltX: 0, tiltY: 0 }, layer.xMm[i] / 1e3, layer.yMm[j] / 1e3, 5.9e-3);
      const m = context.kernel.mutual(pose).value;
      const link = { l1: context.l1.value, l2: context.l2.value, m, r1: context.copper1, r2: context.copper2 };
      const [current] = fastOutput([link], boards);
      expect(layer.marginPercent[9 * j + i]).toBeCloseTo(marginPercent(current, 0.48), 1);
    }
  });

  it('turned and tilted, too', () => {
    const context = linkContext(design);
    const boards = boardsOf(design);
    const { tiltX, tiltY } = attitudeRange(design);
    const poses = attitudePoseCount(design, model, 0.1);
    const attitudes = assembleAttitudes(design, model, 0.1, solveAttitudes(design, model, 0.1, 0, poses));
    for (const at of [
      { yaw: 0.05, tiltX: 0, tiltY },
      { yaw: 0, tiltX: -tiltX, tiltY: 0 },
    ]) {
      const plan = { use: 'worst', gapMm: 5.9, points: 9, ...at } as const;
      const tilted = holdLayer(design, model, plan, [], attitudes);
      const level = holdLayer(design, model, { ...plan, tiltX: 0, tiltY: 0 }, [], attitudes);
      for (const [i, j] of [
        [4, 4],
        [6, 3],
        [1, 6],
        [3, 5],
      ]) {
        const pose = poseAt(context, at, tilted.xMm[i] / 1e3, tilted.yMm[j] / 1e3, 5.9e-3);
        const m = context.kernel.mutual(pose).value;
        const link = { l1: context.l1.value, l2: context.l2.value, m, r1: context.copper1, r2: context.copper2 };
        const [current] = fastOutput([link], boards);
        const wanted = marginPercent(current, 0.48);
        const moved = Math.abs(wanted - level.marginPercent[9 * j + i]);
        expect(Math.abs(tilted.marginPercent[9 * j + i] - wanted)).toBeLessThan(0.1 + 0.1 * moved);
      }
      // Off centre the wedge counts.
      const steps = tilted.marginPercent.map((value, k) => Math.abs(value - level.marginPercent[k]));
      expect(Math.max(...steps)).toBeGreaterThan(0.3);
    }
  });

  it('keeps to the model’s box of gaps', () => {
    const far = holdLayer(design, model, { use: 'worst', gapMm: 500, yaw: 0, tiltX: 0, tiltY: 0, points: 5 });
    const most = holdLayer(design, model, {
      use: 'worst',
      gapMm: model.domain.gapMax * 1e3,
      yaw: 0,
      tiltX: 0,
      tiltY: 0,
      points: 5,
    });
    expect(far.marginPercent).toEqual(most.marginPercent);
  });
});
