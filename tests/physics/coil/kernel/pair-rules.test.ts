import { describe, expect, it } from 'vitest';
import { scalarEngine } from '../../../../src/physics/coil/kernel/neumann-engine.ts';
import { createPairRules, stepDistance, stepOf } from '../../../../src/physics/coil/kernel/pair-rules.ts';
import { circlePath, demoReceiver, demoTransmitter, filamentWinding, poseAt } from './support/coils.ts';

const choice = (effort: number, share = 1, facing = true) => ({ step: stepOf(5e-3), facing, effort, share });

describe('rules of a pair', () => {
  it('rounds distances down by at most a ninth', () => {
    for (const distance of [1e-4, 1.23e-3, 5e-3, 2 ** -7, 0.3]) {
      const rounded = stepDistance(stepOf(distance));
      expect(rounded).toBeLessThanOrEqual(distance * (1 + 1e-9));
      expect(rounded).toBeGreaterThan(distance * 0.91);
    }
  });

  it('makes circles the sources, whichever coil they are, and sums the same from either side', () => {
    const [circle, rectangle] = [demoTransmitter(), demoReceiver()];
    const forth = createPairRules(circle, rectangle, scalarEngine);
    const back = createPairRules(rectangle, circle, scalarEngine);
    expect([forth.rings, back.rings]).toEqual([true, true]);
    expect(createPairRules(rectangle, rectangle, scalarEngine).rings).toBe(false);
    const pose = poseAt(3e-3, -2e-3, 7e-3, 0.4);
    // The same relative place, told from the rectangle.
    const [c, s] = [Math.cos(-0.4), Math.sin(-0.4)];
    const inverse = poseAt(-(c * 3e-3 + s * 2e-3), -(s * 3e-3 - c * 2e-3), -7e-3, -0.4);
    const one = forth.sum(forth.rule(choice(20, 1, false)), pose, 'double');
    const other = back.sum(back.rule(choice(20, 1, false)), inverse, 'double');
    expect(Math.abs(one / other - 1)).toBeLessThan(1e-8);
  });

  it('finds rings off the origin', () => {
    const plain = createPairRules(filamentWinding(circlePath(0.02)), demoReceiver(), scalarEngine);
    const moved = createPairRules(filamentWinding(circlePath(0.02, 4e-3, -1e-3)), demoReceiver(), scalarEngine);
    const one = plain.sum(plain.rule(choice(16)), poseAt(1e-3, 2e-3, 7e-3), 'double');
    const other = moved.sum(moved.rule(choice(16)), poseAt(5e-3, 1e-3, 7e-3), 'double');
    expect(Math.abs(one / other - 1)).toBeLessThan(1e-12);
  });

  it('costs less the coarser it is and the farther the layers behind are', () => {
    const rules = createPairRules(demoReceiver(), demoReceiver(), scalarEngine);
    const evaluations = [1, 0.72, 0.62].map((share) => rules.rule(choice(8, share)).evaluations);
    expect(evaluations[0]).toBeGreaterThan(evaluations[1]!);
    expect(evaluations[1]).toBeGreaterThan(evaluations[2]!);
    expect(rules.rule(choice(8, 1, false)).evaluations).toBeGreaterThan(evaluations[0]!);
    expect(rules.rule(choice(8))).toBe(rules.rule(choice(8)));
  });
});
