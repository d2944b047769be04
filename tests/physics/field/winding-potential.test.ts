import { expect, it } from 'vitest';
import { windingPotential } from '../../../src/physics/field/potential-engine.ts';
import { NodeLadder } from '../../../src/physics/field/winding-potential.ts';
import { coil1 } from './fixtures.ts';

const loop = { ...coil1, turns: [coil1.turns[0]!] };
const radius = coil1.turns[0]!.pieces[0]!.kind === 'arc' ? coil1.turns[0]!.pieces[0]!.radius : 0;

it('is the solid angle over 4 pi: (1 - z / sqrt(z^2 + a^2)) / 2 on the axis', () => {
  const nodes = new NodeLadder(loop).at(1e-3).nodes;
  for (const z of [1e-3, 5e-3, 0.03]) {
    const wanted = (1 - z / Math.hypot(z, radius)) / 2;
    expect(windingPotential(nodes, 0, 0, z)).toBeCloseTo(wanted, 12);
    expect(windingPotential(nodes, 0, 0, -z)).toBeCloseTo(-wanted, 12);
  }
});

it('passes through zero in the plane beside the winding, without a step', () => {
  const nodes = new NodeLadder(loop).at(1e-3).nodes;
  const above = windingPotential(nodes, 0.04, 0, 1e-9);
  expect(Math.abs(above)).toBeLessThan(1e-7);
  expect(Math.abs(above + windingPotential(nodes, 0.04, 0, -1e-9))).toBeLessThan(1e-7);
});

it('lumps turns without harm at a distance', () => {
  const ladder = new NodeLadder(coil1);
  const fine = ladder.at(3e-4).nodes;
  for (const d of [2e-3, 5e-3, 15e-3]) {
    const few = ladder.beyond(d).nodes;
    expect(few.count).toBeLessThan(fine.count / 4);
    for (const x of [0, 0.012, 0.0215, 0.03]) {
      const z = d;
      expect(Math.abs(windingPotential(few, x, 0, z) - windingPotential(fine, x, 0, z))).toBeLessThan(2e-3);
    }
  }
});
