import { describe, expect, it } from 'vitest';
import { mutualInductance } from '../../../src/physics/coil/mutual-inductance.ts';
import { couplingWithError } from '../../../src/physics/field/coupling-error.ts';
import { createFieldModel } from '../../../src/physics/field/field-model.ts';
import { AIR1, AIR2, coil1, coil2, distanceOf, linkOf, pose, regions, sheetCoil, square } from './fixtures.ts';

/** Claimed error against true error, over all finite-element rows: at least 95 % must be covered (issue 3). */
const claims: { readonly id: string; readonly covered: boolean }[] = [];
const claim = (id: string, error: number, claimed: number) => claims.push({ id, covered: Math.abs(error) <= claimed });

// Finite elements by an independent code; see reference-cases/ferrite.
describe.each(regions('ferrite', 'ferrite-discs'))('discs: $name', (region) => {
  it.each(region.rows)('$id', (row) => {
    const { transmitter, receiver } = linkOf(row);
    const model = createFieldModel(transmitter, receiver);
    if (row.expected.M === undefined) {
      const change = model.alone();
      const l1 = AIR1 + 1e6 * change.dL1;
      claim(`${row.id} L1`, l1 - row.expected.L1!, 1e6 * change.errors.dL1);
      expect(Math.abs(l1 / row.expected.L1! - 1)).toBeLessThan(region.tolerance.rel);
      // The infinite slab of the same thickness is above, air below.
      expect(l1).toBeGreaterThan(AIR1);
      expect(l1).toBeLessThan(row.expected.L1_inf_slab!);
      return;
    }
    const at = pose(distanceOf(row.inputs.gapMm!));
    const change = model.solve(at);
    const mutual = mutualInductance(coil1, coil2, at).value;
    const air = { l1: AIR1 * 1e-6, l2: AIR2 * 1e-6, mutual };
    const found = { L1: air.l1 + change.dL1, L2: air.l2 + change.dL2, M: mutual + change.dM };
    const strict = row.inputs.gapMm === 2;
    for (const [key, value] of Object.entries(found)) {
      const wanted = row.expected[key]! * 1e-6;
      claim(`${row.id} ${key}`, value - wanted, change.errors[`d${key}` as 'dL1' | 'dL2' | 'dM']);
      expect(Math.abs(value / wanted - 1), key).toBeLessThan(strict ? 0.003 : region.tolerance.rel);
    }
    const k = couplingWithError(change, air);
    claim(`${row.id} k`, k.value - row.expected.k!, k.error);
    expect(Math.abs(k.value / row.expected.k! - 1), 'k').toBeLessThan(strict ? 0.0005 : region.tolerance.k!);
    // |M_inf - M| <= sqrt(dL1 dL2): the missing plate is a passive network.
    const missing1 = row.expected.L1_inf! * 1e-6 - found.L1;
    const missing2 = row.expected.L2_inf! * 1e-6 - found.L2;
    expect(missing1).toBeGreaterThan(0);
    expect(missing2).toBeGreaterThan(0);
    // The bound is met to 2e-4 by the finite elements themselves (pair-31), so the claimed errors are allowed for.
    const { errors } = change;
    const bound = Math.sqrt((missing1 + errors.dL1) * (missing2 + errors.dL2)) + errors.dM;
    expect(Math.abs(row.expected.M_inf! * 1e-6 - found.M)).toBeLessThanOrEqual(bound);
    // The single grids within their own claims.
    for (const level of ['coarse', 'rough'] as const) {
      const single = model.solve(at, level);
      for (const key of ['dL1', 'dL2', 'dM'] as const) {
        expect(Math.abs(single[key] - change[key]), `${level} ${key}`).toBeLessThan(single.errors[key]);
      }
    }
  });
});

describe('square plates and current sheets', () => {
  const [region] = regions('ferrite', 'ferrite-squares');
  it.each(region!.rows)('$id', (row) => {
    const one = sheetCoil(coil1, 10, 10.25e-3, 22e-3, 40);
    const two = sheetCoil(coil2, 12, 10e-3, 20e-3, 40);
    const mu = row.inputs.mu!;
    // The sheets lie 1.05 and 0.675 mm before their plates: standoff is counted from the conductor's back.
    const transmitter = { winding: one, ferrite: square(50e-3, 1e-3, mu, 0.5e-3), metal: null };
    const receiver = { winding: two, ferrite: square(42e-3, 0.8e-3, mu, 0.3e-3), metal: null };
    const model = createFieldModel(transmitter, receiver);
    if (row.expected.dM === undefined) {
      const alone = model.alone();
      expect(Math.abs((1e6 * alone.dL1) / row.expected.dL1! - 1)).toBeLessThan(0.003);
      return;
    }
    const change = model.solve(pose(distanceOf(row.inputs.gapMm!), row.inputs.offsetXMm! / 1e3));
    const [l1, l2, m] = row.air!;
    const total = { dL1: l1 + 1e6 * change.dL1, dL2: l2 + 1e6 * change.dL2, dM: m + 1e6 * change.dM };
    for (const [i, key] of (['dL1', 'dL2', 'dM'] as const).entries()) {
      const wanted = row.air![i]! + row.expected[key]!;
      claim(`${row.id} ${key}`, total[key] - wanted, 1e6 * change.errors[key] + 0.001 * row.expected[key]!);
      expect(Math.abs(total[key] / wanted - 1), key).toBeLessThan(0.003);
    }
    const k = total.dM / Math.sqrt(total.dL1 * total.dL2);
    expect(Math.abs(k / row.expected.k! - 1)).toBeLessThan(0.001);
  });
});

describe.each(regions('metal', 'metal-discs'))('metal: $name', (region) => {
  it.each(region.rows)('$id', (row) => {
    const { transmitter, receiver } = linkOf(row);
    const model = createFieldModel(transmitter, receiver, { frequency: 130e3 });
    const at = pose(distanceOf(row.inputs.gapMm!));
    const change = model.solve(at);
    const found = {
      L1: AIR1 + 1e6 * change.dL1,
      L2: AIR2 + 1e6 * change.dL2,
      M: 1e6 * (mutualInductance(coil1, coil2, at).value + change.dM),
    };
    for (const [key, value] of Object.entries(found)) {
      claim(`${row.id} ${key}`, value - row.expected[key]!, 1e6 * change.errors[`d${key}` as 'dL1' | 'dL2' | 'dM']);
      expect(Math.abs(value / row.expected[key]! - 1), key).toBeLessThan(region.tolerance.rel);
    }
    if (row.expected.R1 === undefined) return;
    expect(Math.abs(change.loss.metal1 / row.expected.R1 - 1), 'R1').toBeLessThan(0.15);
    expect(Math.abs(change.loss.metal2 / row.expected.R2! - 1), 'R2').toBeLessThan(0.15);
  });
});

it('claims errors at least as large as the true ones in 95 % of the values', () => {
  const missed = claims.filter((c) => !c.covered).map((c) => c.id);
  expect(claims.length).toBeGreaterThan(80);
  expect(missed.length / claims.length, missed.join(', ')).toBeLessThanOrEqual(0.05);
});
