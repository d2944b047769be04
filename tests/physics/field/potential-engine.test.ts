import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../src/numerics/random.ts';
import { turnsNodes } from '../../../src/physics/coil/nodes.ts';
import {
  createScalarPotential,
  createSimdPotential,
  windingPotential,
} from '../../../src/physics/field/potential-engine.ts';
import { coil1 } from './fixtures.ts';

describe('potential engine', () => {
  const sets = [5e-3, 1.3e-3, 3e-4].map((spacing) => turnsNodes(coil1.turns, spacing));

  it('sums as the definition does, in both forms', () => {
    const random = randomSource(11);
    const points = new Float64Array(4 * 37);
    for (let i = 0; i < points.length; i += 4) {
      const above = random.uniform() < 0.5 ? -1 : 1;
      points.set([0.05 * random.normal(), 0.05 * random.normal(), above * (1e-3 + 0.02 * random.uniform()), 1 / 37], i);
    }
    const engines = [createScalarPotential(), createSimdPotential()!];
    for (const nodes of sets) {
      let wanted = 0;
      let made = 0;
      for (let i = 0; i < points.length; i += 4) {
        const value = points[i + 3]! * windingPotential(nodes, points[i]!, points[i + 1]!, points[i + 2]!);
        wanted += value;
        made += Math.abs(value);
      }
      const [scalar, simd] = engines.map((engine) => engine.sum(engine.hold(nodes), points, 37)) as [number, number];
      expect(Math.abs(scalar - wanted)).toBeLessThan(1e-14 * made);
      expect(Math.abs(simd - wanted)).toBeLessThan(2e-6 * made);
    }
  });

  it('keeps the sets it holds apart while its memory grows', () => {
    const engine = createSimdPotential()!;
    const point = Float64Array.of(0.004, -0.002, 0.006, 1);
    const first = engine.hold(sets[0]!);
    const before = engine.sum(first, point, 1);
    for (let k = 0; k < 40; k++) engine.hold(sets[2]!);
    expect(engine.sum(first, point, 1)).toBe(before);
  });
});
