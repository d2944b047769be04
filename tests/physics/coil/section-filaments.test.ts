import { expect, test } from 'vitest';
import { coaxialMutualInductance, roundRingPair } from '../../../src/physics/coil/coaxial-circles.ts';
import { sectionFilaments } from '../../../src/physics/coil/section-filaments.ts';
import { rings, solid, trace } from './coils.ts';

test('moved rings have the mutual inductance of thick ones; layers stay shared; traces stay', () => {
  const wire = 1e-3;
  const moved = sectionFilaments(rings(15e-3, 15e-3, 1, solid(wire))).turns[0].pieces[0];
  const radius = moved.kind === 'arc' ? moved.radius : Number.NaN;
  const thick = roundRingPair(15e-3, 15e-3, 6e-3, wire / 2);
  const bare = coaxialMutualInductance(15e-3, 15e-3, 6e-3);
  expect(Math.abs(coaxialMutualInductance(radius, radius, 6e-3) / thick - 1)).toBeLessThan(0.01 * (thick / bare - 1));
  const flat = rings(15e-3, 13e-3, 2, trace(0.5e-3));
  expect(sectionFilaments(flat)).toBe(flat);
});
