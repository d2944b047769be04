/** Invented answers of the supply choice and of what moves the margin: smooth, quick, and nothing to do with a real link. */
import { rankSensitivity, type Sensitivity } from '../../src/analysis/sensitivity/sensitivity.ts';
import { type SupplyChoice, type SupplyOption, supplyChoice } from '../../src/analysis/supply/supply-choice.ts';
import type { Uncertain } from '../../src/analysis/types.ts';
import { demandOf } from '../../src/design/demand.ts';
import type { Design } from '../../src/design/types.ts';
import type { SupplyRequest } from '../../src/engine/types.ts';
import type { LinkState } from '../../src/physics/circuit/types.ts';

const around = (value: number, share: number): Uncertain => ({
  value,
  low: value * (1 - share),
  high: value * (1 + share),
});

/** @param reaches whether the reaches are there already */
export function fakeSupplyChoice({ design, suppliesV }: SupplyRequest, reaches: boolean): SupplyChoice {
  const { demandA } = demandOf(design);
  const options = suppliesV.map((supplyV): SupplyOption => {
    const most = 1.1 * (supplyV / 5) ** 0.4;
    const efficiency = 0.78 - 0.018 * (supplyV - 5);
    const state: LinkState = supplyV > 10 ? 'overfed' : 'regulated';
    const loadA = Float64Array.from({ length: 14 }, (_, i) => (most * (i + 1)) / 14);
    return {
      report: {
        supplyV,
        maxOutputA: around(most, 0.1),
        limitedBy: supplyV > 10 ? 'cell' : 'link',
        marginPercent: {
          value: 100 * (most / demandA - 1),
          low: 100 * ((0.9 * most) / demandA - 1),
          high: 100 * ((1.1 * most) / demandA - 1),
        },
        peakMarginPercent: null,
        wakes: true,
        atDemand: {
          state,
          efficiency: around(efficiency, 0.01),
          supplyA: (5 * demandA) / efficiency / supplyV,
          receiverC: around(30 + 2.4 * supplyV, 0.03),
          transmitterC: 28 + supplyV,
          cellC: 30 + supplyV,
          caseC: 30 + supplyV,
          lossW: 5 * demandA * (1 / efficiency - 1),
          highVoltage: supplyV > 10,
          severalPoints: false,
        },
        atLightLoad: { loadA: 0.01, state, receiverC: 40 },
        changes: [],
      },
      curve: {
        supplyV,
        loadA,
        efficiency: loadA.map((load) => (efficiency * load) / (load + 0.02) - 0.02 * load),
        states: Array.from(loadA, (load): LinkState => (supplyV > 6 && load < 0.3 ? 'overfed' : 'regulated')),
      },
      reach: reaches
        ? {
            gap: { holdMm: around(6 + 0.5 * supplyV, 0.08), wakeMm: 12 + supplyV, beyond: false },
            offsetMm: around(4 + 0.5 * supplyV, 0.08),
            offsetBeyond: false,
            wakeOffsetMm: 9 + supplyV,
            innerLimitMm: supplyV > 10 ? 2.4 : 0,
          }
        : null,
    };
  });
  return supplyChoice(design, options);
}

export function fakeSensitivity(design: Design): Sensitivity {
  const row = (name: string, tolerance: string | null, up: number, down: number, perPercent: number) => ({
    name,
    path: name,
    tolerance,
    up,
    down,
    perPercent,
  });
  return rankSensitivity(design, { maxOutputA: 1.06, limitedBy: 'link' }, [
    row('receiver inductance', '± 5 %', 0.13, -0.3, 0.042),
    row('transmitter inductance', '± 5 %', -0.19, 0.134, -0.043),
    row('supply voltage', '± 3 %', 0.13, -0.155, 0.057),
    row('receiver series capacitor', '± 5 %', 0.098, -0.099, 0.02),
    row('gap', '± 0.26 mm', -0.036, 0.039, -0.0083),
    row('regulator drop-out', null, 0, 0, -0.0005),
    row('coil current limit', null, 0, 0, 0),
  ]);
}
