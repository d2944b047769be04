import type { SupplyOption, SupplyReach } from '../../../src/analysis/supply/supply-choice.ts';
import type { SupplyChange, SupplyReport } from '../../../src/analysis/supply/supply-report.ts';
import type { Uncertain } from '../../../src/analysis/types.ts';

export const around = (value: number, half = 0): Uncertain => ({ value, low: value - half, high: value + half });

/** A change that moves the current (and efficiency, heat) by fixed amounts at both ends. */
export function change(path: string, currentA: number, efficiency = 0, kelvin = 0): SupplyChange {
  return {
    path,
    up: { maxOutputA: currentA, efficiency, receiverC: kelvin },
    down: { maxOutputA: -currentA, efficiency: -efficiency, receiverC: -kelvin },
  };
}

/** An invented report: 0.8 A asked. */
export function report(
  supplyV: number,
  numbers: Partial<{ mostA: number; efficiency: number; receiverC: number }>,
  rest: Partial<SupplyReport> = {},
): SupplyReport {
  const { mostA = 1, efficiency = 0.75, receiverC = 40 } = numbers;
  return {
    supplyV,
    maxOutputA: around(mostA, 0.1),
    limitedBy: 'link',
    marginPercent: around(100 * (mostA / 0.8 - 1), 12),
    peakMarginPercent: null,
    wakes: true,
    atDemand: {
      state: 'regulated',
      efficiency: around(efficiency, 0.01),
      supplyA: 1,
      receiverC: around(receiverC, 2),
      transmitterC: 33,
      cellC: 32,
      caseC: 34,
      lossW: 1,
      highVoltage: false,
      severalPoints: false,
    },
    atLightLoad: { loadA: 0.01, state: 'regulated', receiverC: 28 },
    changes: [],
    ...rest,
  };
}

export function option(from: SupplyReport, reach: SupplyReach | null = null): SupplyOption {
  const { supplyV } = from;
  return {
    report: from,
    curve: { supplyV, loadA: new Float64Array(0), efficiency: new Float64Array(0), states: [] },
    reach,
  };
}

export function reach(offsetMm: Uncertain, gapMm: Uncertain, innerLimitMm = 0): SupplyReach {
  return {
    gap: { holdMm: gapMm, wakeMm: gapMm.value + 5, beyond: false },
    offsetMm,
    offsetBeyond: false,
    wakeOffsetMm: offsetMm.value + 3,
    innerLimitMm,
  };
}
