/** Tables of a report on holding: forces, lottery, placements. */
import type { HoldReport } from '../hold-report.ts';
import { tableCsv } from './map-csv.ts';

/** Forces along both axes as one table. */
export function forcesCsv(report: HoldReport): string {
  const { magnets } = report;
  const rows: (string | number)[][] = [];
  if (magnets)
    for (const [direction, table] of [
      ['x', magnets.alongX],
      ['y', magnets.alongY],
      ['x without ferrite', magnets.airAlongX],
    ] as const)
      table.offsetMm.forEach((at, k) => {
        rows.push([direction, at, table.pullN[k], table.restoringN[k], table.frictionN[k], table.tippingNmm[k]]);
      });
  return tableCsv(['direction', 'offset_mm', 'pull_N', 'restoring_N', 'friction_N', 'tipping_Nmm'], rows);
}

/** The lottery as one table: each aid and load, then success against clearance. */
export function lotteryCsv(report: HoldReport): string {
  const { byAid, curve } = report.lottery;
  const rows: (string | number)[][] = [];
  for (const { aid, answer } of byAid)
    for (const chance of [...answer.chances, answer.all])
      rows.push([aid, chance.name, '', chance.probability, chance.wilson.low, chance.wilson.high, chance.trials]);
  curve?.clearanceMm.forEach((clearance, k) => {
    rows.push(['recess', 'all', clearance, curve.probability[k], curve.low[k], curve.high[k], '']);
  });
  return tableCsv(['aid', 'load', 'clearance_mm', 'probability', 'low', 'high', 'placements'], rows);
}

/** Placements drawn on the plan, where they end. */
export function placementsCsv(report: HoldReport): string {
  const rows: (string | number)[][] = [];
  for (const { aid, sample } of report.lottery.byAid)
    sample.xMm.forEach((x, k) => {
      rows.push([aid, x, sample.yMm[k], (sample.yaw[k] * 180) / Math.PI, sample.works[k]]);
    });
  return tableCsv(['aid', 'x_mm', 'y_mm', 'yaw_deg', 'works'], rows);
}
