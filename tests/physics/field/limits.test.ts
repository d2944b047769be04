import { describe, expect, it } from 'vitest';
import { createFieldModel } from '../../../src/physics/field/field-model.ts';
import { coil1, coil2, disc, pose, regions } from './fixtures.ts';

const bare = { ferrite: null, metal: null };
const circle = (radius: number) => ({
  ...coil1,
  turns: [{ pieces: [{ kind: 'arc' as const, cx: 0, cy: 0, radius, start: 0, sweep: 2 * Math.PI }], z: 0, weight: 1 }],
  halfWidth: radius,
  halfHeight: radius,
});

describe('infinite slab (reference-cases/ferrite) as the limit of a large disc', () => {
  const [region] = regions('ferrite', 'infinite-slab');
  // A single filament 1 or 2 mm over the plate is the hardest load for the cells, and the disc ends somewhere: the answer
  // may stay up to 3 % below the infinite slab (the finite elements put a 25 mm disc 7 % below, single-08), and it may
  // not exceed the slab by more than the model's own claimed error.
  it.each(region!.rows)('$id', (row) => {
    const i = row.inputs;
    const standoff = i.height1Mm! / 1e3 - coil1.halfThickness;
    const radius = i.height1Mm === i.height2Mm && i.height1Mm === 1 ? 45e-3 : 70e-3;
    const ferrite = disc(radius, i.thicknessMm! / 1e3, i.mu!, standoff);
    const one = { winding: circle(i.radius1Mm! / 1e3), ferrite, metal: null };
    const wanted = 1e-9 * (row.expected as unknown as number);
    const same = i.height1Mm === i.height2Mm;
    const two = same ? { winding: coil2, ...bare } : { winding: circle(i.radius2Mm! / 1e3), ...bare };
    const model = createFieldModel(one, two);
    const alone = model.alone();
    const change = same ? null : model.solve(pose((i.height2Mm! - i.height1Mm!) / 1e3));
    const value = change ? change.dM : alone.dL1;
    const claimed = change ? change.errors.dM : alone.errors.dL1;
    expect(value / wanted).toBeGreaterThan(0.97);
    expect(value - wanted).toBeLessThan(claimed);
  });
});

it('grows with permeability and thickness over their whole range', () => {
  const at = (mu: number, thickness: number) =>
    createFieldModel(
      { winding: coil1, ferrite: disc(25e-3, thickness, mu, 0.5e-3), metal: null },
      { winding: coil2, ...bare },
    ).alone();
  for (const series of [
    [at(2, 1e-3), at(20, 1e-3), at(5000, 1e-3)],
    [at(700, 0.05e-3), at(700, 1e-3), at(700, 5e-3)],
    [at(2, 0.05e-3), at(2, 5e-3)],
  ]) {
    for (let k = 1; k < series.length; k++) expect(series[k]!.dL1).toBeGreaterThan(series[k - 1]!.dL1);
    for (const { dL1, errors } of series) {
      expect(dL1).toBeGreaterThan(0);
      // Two grids agree within 1 % of the change everywhere in the range.
      expect(errors.dL1).toBeLessThan(0.01 * dL1);
    }
  }
});

it('a large metal sheet acts as the image of the coil', () => {
  // Perfect conductor at depth d: dL = -M of the coil and its mirror image 2 d behind. Elliptic formula of the coil folder.
  const metal = {
    outline: { shape: 'circle' as const, diameter: 0.2 },
    thickness: 0.5e-3,
    standoff: 6e-3,
    conductivity: 1e15,
  };
  const change = createFieldModel({ winding: coil1, ferrite: null, metal }, { winding: coil2, ...bare }).alone();
  const depth = 2 * (coil1.halfThickness + 6e-3);
  const radii = coil1.turns.map((t) => (t.pieces[0]!.kind === 'arc' ? t.pieces[0]!.radius : 0));
  let image = 0;
  for (const a of radii) {
    for (const b of radii) {
      // Neumann's integral by the trapezoid rule.
      let sum = 0;
      for (let k = 0; k < 200; k++) {
        const t = (2 * Math.PI * (k + 0.5)) / 200;
        sum += Math.cos(t) / Math.sqrt(a * a + b * b - 2 * a * b * Math.cos(t) + depth * depth);
      }
      image += (1e-7 * a * b * 4 * Math.PI * Math.PI * sum) / 200;
    }
  }
  expect(Math.abs(change.dL1 / -image - 1)).toBeLessThan(0.02);
});
