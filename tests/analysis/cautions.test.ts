import { describe, expect, test } from 'vitest';
import { BURN_C, type CautionFacts, cautionsFor } from '../../src/analysis/cautions.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import type { Design } from '../../src/design/types.ts';
import { CAUTION_VOLTAGE } from '../../src/physics/circuit/stress.ts';
import { resolved } from '../design/least.ts';

const { design } = resolved(DEMO_DESIGN);
const bare: Design = {
  ...design,
  demand: { ...design.demand, loads: design.demand.loads.filter(({ kind }) => kind !== 'charging') },
  holding: { ...design.holding, magnets: null },
};
const QUIET: CautionFacts = {
  transmitterCapacitorPeakV: 12,
  receiverCapacitorPeakV: 9,
  transmitterCoilPeakV: 15,
  receiverCoilPeakV: 14,
  receiverC: 35,
  cellC: 30,
  caseC: 30,
  transmitterC: 32,
};
const said = (facts: Partial<CautionFacts>, of = bare) => cautionsFor(of, { ...QUIET, ...facts });

describe('what is always said', () => {
  test('metal, implants with the usual distance, and that codes, data sheets and licensed practice come first', () => {
    const all = said({});
    expect(all).toHaveLength(3);
    expect(all[0]).toMatch(/coin.*burn/);
    expect(all[1]).toMatch(/pacemakers.*at least 15 cm.*common practice, no source.*physician come first/);
    expect(all.at(-1)).toBe('Local codes, the parts’ data sheets and licensed practice come first.');
  });
});

describe('what the numbers call for', () => {
  test('resonant voltage, of capacitor or coil, above 50 V only, on the side it stands', () => {
    expect(said({ receiverCoilPeakV: CAUTION_VOLTAGE }).join()).not.toMatch(/by resonance/);
    const high = said({ transmitterCapacitorPeakV: 71.6, receiverCoilPeakV: 63.2 }).join();
    expect(high).toMatch(/transmitter’s series capacitor and coil carry up to 72 V peak/);
    expect(high).toMatch(/receiver’s series capacitor and coil carry up to 63 V peak/);
    expect(high).toMatch(/data sheets/);
  });

  test('a lithium cell: with a charging load, when too warm, when too cold', () => {
    expect(said({}).join()).not.toMatch(/lithium/);
    expect(said({}, design).join()).toMatch(/data sheet’s limits \(commonly not above 45 °C\)/);
    expect(said({ cellC: 47 }, design).join()).toMatch(/settles at 47 °C, above the 45 °C/);
    const cold = { ...design, demand: { ...design.demand, ambientC: -5 } };
    expect(said({}, cold).join()).toMatch(/must commonly not be charged at all/);
  });

  test('heat: a part that burns, a case too warm to touch', () => {
    expect(said({ receiverC: BURN_C }).join()).not.toMatch(/burn the skin/);
    expect(said({ receiverC: 74 }).join()).toMatch(/74 °C: above 60 °C it can burn the skin/);
    expect(said({ caseC: 52 }).join()).toMatch(/52 °C, above the 48 °C taken as the most to touch/);
  });

  test('magnets only where there are any', () => {
    expect(said({}).join()).not.toMatch(/[Mm]agnets/);
    const held = { ...bare, holding: { ...bare.holding, magnets: design.holding.magnets ?? ({} as never) } };
    expect(said({}, held).join()).toMatch(/pinch fingers.*implants.*swallowed/);
  });
});
