import { describe, expect, it } from 'vitest';
import {
  SATURATION_CASES,
  type SaturationCase,
  saturatedChange,
  saturationEffect,
} from '../../../src/analysis/hold/magnet-saturation.ts';
import type { Design } from '../../../src/design/types.ts';
import type { GridChange } from '../../../src/physics/field/field-model.ts';
import type { PlateFlux } from '../../../src/physics/magnet/saturation.ts';
import { demo, MAGNETS } from './demo-design.ts';

/** One ferrite only, so that the field model is quick to set up. */
const base = demo({ magnets: MAGNETS });
const design: Design = {
  ...base,
  transmitter: { ...base.transmitter, ferrite: null },
  receiver: { ...base.receiver, metal: null },
};

/** Four cells over a quarter of the receiver's ferrite with the same share of the susceptibility left. */
const flux = (share: number): { dock: null; device: PlateFlux } => ({
  dock: null,
  device: {
    centres: Float64Array.of(6e-3, 4e-3, 18e-3, 4e-3, 6e-3, 13e-3, 18e-3, 13e-3),
    areas: new Float64Array(4).fill(1e-4),
    density: new Float64Array(4).fill(0.35 * (1 - share)),
    shares: new Float64Array(4).fill(share),
    peakT: 0.35 * (1 - share),
    saturationT: 0.35,
    halvedShare: share * share < 0.5 ? 1 : 0,
    leastPermeability: 1 + 699 * share * share,
  },
});
const changesAt = (share: number) =>
  Object.fromEntries(SATURATION_CASES.map((which) => [which, saturatedChange(design, flux(share), which)])) as Record<
    SaturationCase,
    GridChange
  >;

describe('saturationEffect', () => {
  it('is null without ferrite in reach', () => {
    const none = { dL1: 0, dL2: 0, dM: 0 };
    const changes = { none, mean: none, along: none, across: none };
    expect(saturationEffect(design, { dock: null, device: null }, changes)).toBeNull();
  });

  it('no flux changes nothing', () => {
    const effect = saturationEffect(design, flux(1), changesAt(1));
    if (!effect) throw new Error('no effect');
    for (const { without, with: after, low, high } of [
      effect.receiverInductanceH,
      effect.coupling,
      effect.marginPercent,
    ])
      for (const value of [after, low, high]) expect(Math.abs(value / without - 1)).toBeLessThan(1e-9);
  });

  it('the same share in every cell is the link with that permeability', () => {
    const share = 0.09;
    const direct: Design = {
      ...design,
      receiver: {
        ...design.receiver,
        ferrite: design.receiver.ferrite && { ...design.receiver.ferrite, relativePermeability: 1 + 699 * share },
      },
    };
    const lowered = saturatedChange(direct, { dock: null, device: null }, 'none');
    const across = saturatedChange(design, flux(share), 'across');
    for (const key of ['dL1', 'dL2', 'dM'] as const)
      expect(Math.abs(across[key] / lowered[key] - 1)).toBeLessThan(1e-6);
  });

  it('what flux takes is solved again: inductance and k fall, the ends hold the value, and the sentence says it in numbers', () => {
    const effect = saturationEffect(design, flux(0.25), changesAt(0.25));
    if (!effect) throw new Error('no effect');
    const { receiverInductanceH: l2, transmitterInductanceH: l1, coupling } = effect;
    expect(l2.with).toBeLessThan(0.995 * l2.without);
    expect(l2.low).toBeLessThan(l2.with);
    expect(l2.high).toBeGreaterThan(l2.with);
    expect(l2.high).toBeLessThan(l2.without);
    // The receiver's ferrite counts for the transmitter too, and less.
    expect(l1.with).toBeLessThan(l1.without);
    expect(1 - l1.with / l1.without).toBeLessThan(1 - l2.with / l2.without);
    expect(coupling.with).toBeLessThan(coupling.without);
    expect(effect.fullness).toBeCloseTo(0.75, 9);
    expect(effect.sentence).toMatch(
      /^The magnets’ steady flux fills the device’s ferrite up to 26\d mT \(it saturates towards 350 mT\), which takes half its permeability or more over 100 % of its area\. Solved again with that, transmitter L −\d+\.\d % \(−\d+\.\d to −\d+\.\d\), receiver L −\d+\.\d % \(.*k −\d+\.\d %.*margin at home −?\d+ % to −?\d+ %/,
    );
  });
});
