import { describe, expect, it } from 'vitest';
import { gapStep, keptGaps } from '../../../src/analysis/hold/gap-steps.ts';
import { demo } from './demo-design.ts';

const design = demo();
const range = [1, 15] as const;

describe('gapStep', () => {
  it.each([
    ['falling', (gap: number) => 100 - 12 * gap],
    ['overfed near, weak far', (gap: number) => 80 - 5 * (gap - 7) ** 2],
    ['nowhere', () => -5],
  ])('asks step by step for what the search at once would: %s', (_, margin) => {
    const known = new Map<number, number>();
    let steps = 0;
    for (;;) {
      const step = gapStep(design, range, known);
      if (step.kind === 'kept') {
        expect(step.limits).toEqual(keptGaps(design, margin, range));
        break;
      }
      expect(step.gapsMm.every((gap) => !known.has(gap))).toBe(true);
      for (const gap of step.gapsMm) known.set(gap, margin(gap));
      expect(++steps).toBeLessThan(40);
    }
    expect(known.size).toBeGreaterThanOrEqual(18);
  });

  it('an error of another kind is not swallowed', () => {
    const broken = { ...design, demand: null } as unknown as typeof design;
    expect(() => gapStep(broken, range, new Map([[1, 2]]))).toThrow(TypeError);
  });
});
