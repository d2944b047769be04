/** The report on holding with an invented margin: everything but the link is worked out by the program itself. */

import { type HoldReport, holdReport } from '../../src/analysis/hold/hold-report.ts';
import { scalarSlack } from '../../src/analysis/hold/lottery-report.ts';
import { safeRegion } from '../../src/analysis/hold/safe-region.ts';
import { demandOf } from '../../src/design/demand.ts';
import type { Design } from '../../src/design/types.ts';

/** Reserve current at a place, A. */
export type Reserve = (xMm: number, yMm: number, gapMm: number) => number;

/** @param full with a direct solution (half a point below the quick one), the stack, and the field that heats magnets */
export function fakeHoldReport(design: Design, reserve: Reserve, full: boolean): HoldReport {
  const { placement, demand } = design;
  const { gapMm, offsetXMm, offsetYMm } = placement;
  const { demandA, demandNames, peaks } = demandOf(design);
  const slackOf =
    (asked: number) =>
    (x: Float64Array, y: Float64Array, yaw: Float64Array, out: Float64Array): void => {
      for (let k = 0; k < out.length; k += 1)
        out[k] = 100 * (reserve(x[k] + offsetXMm, y[k] + offsetYMm, gapMm) / asked - 1) - 40 * Math.abs(yaw[k]);
    };
  const marginAt = scalarSlack(slackOf(demandA));
  const axis = Float64Array.from({ length: 65 }, (_, i) => -32 + i);
  const slack = new Float64Array(65 * 65);
  for (let j = 0; j < 65; j += 1)
    for (let i = 0; i < 65; i += 1)
      slack[65 * j + i] = 100 * (reserve(axis[i], axis[j], gapMm) / demandA - 1) - demand.wantedMarginPercent;
  const safeHere = safeRegion(axis, axis, [{ name: 'margin', slack, smooth: true }], {
    restMm: [offsetXMm, offsetYMm],
  });
  const report = holdReport(design, {
    marginAt,
    directMarginAt: full ? (x, y, yaw) => marginAt(x, y, yaw) - 0.5 : null,
    bandAt: (x, y, yaw) => {
      const value = marginAt(x, y, yaw);
      return { value, low: value - 9, high: value + 11 };
    },
    conditions: [
      { name: demandNames.join(' + '), slack: slackOf(demandA) },
      ...peaks.map((peak) => ({ name: peak.name, slack: slackOf(peak.currentA) })),
    ],
    marginAtGap: full ? (gap) => 100 * (reserve(0, 0, gap) / demandA - 1) : null,
    magnets: {
      safeOutline: safeHere.outline,
      coilField: full ? { peakT: 4e-4, frequencyHz: 128e3 } : null,
    },
    lottery: { count: full ? 8000 : 2000 },
    mostClearanceMm: 12,
    region: null,
  });
  const { reachMm } = safeHere;
  return { ...report, safeHere, safeHereReachMm: { value: reachMm, low: reachMm - 0.6, high: reachMm + 0.5 } };
}
