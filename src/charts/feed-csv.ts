import type { DayCurve } from '../analysis/feed/day-curve.ts';
import { type FlowNode, flowNodes } from '../analysis/feed/flow.ts';
import { tableCsv } from '../analysis/hold/exports/map-csv.ts';
import type { WattBands } from './energy-flow.ts';
import type { ChargeMapModel } from './feed-offset.ts';

/** The energy flow as a table: what enters each stretch, and every loss with the place of its heat. */
export function flowCsv(root: FlowNode, bands: WattBands): string {
  const ends = (id: string): [number | string, number | string] => [bands[id]?.low ?? '', bands[id]?.high ?? ''];
  const rows = flowNodes(root).flatMap((node) => [
    ['enters', node.name, node.watts, ...ends(node.id), ''],
    ...node.losses.map((loss) => ['heat', loss.name, loss.watts, ...ends(loss.id), loss.where]),
  ]);
  return tableCsv(['what', 'part', 'power_W', 'low_W', 'high_W', 'where'], rows);
}

/** The cell's charge over a day as a table, as a fraction of what it holds. */
export function dayCsv(
  curve: DayCurve,
  band: { readonly low: Float64Array; readonly high: Float64Array } | null,
): string {
  const doing = (hour: number): string => curve.stretches.find((part) => hour <= part.toH)?.name ?? '';
  const rows = Array.from(curve.hours, (hour, i) => [
    hour,
    doing(hour),
    curve.charge[i],
    band?.low[i] ?? '',
    band?.high[i] ?? '',
  ]);
  return tableCsv(['time_h', 'what', 'charge_fraction', 'low_fraction', 'high_fraction'], rows);
}

/** Charge time over offset as a table; no number where the cell gets nothing. */
export function chargeCsv({ xMm, yMm, hours }: ChargeMapModel): string {
  const rows = Array.from(hours, (value, i) => [
    xMm[i % xMm.length],
    yMm[Math.floor(i / xMm.length)],
    Number.isFinite(value) ? value : '',
  ]);
  return tableCsv(['x_mm', 'y_mm', 'charge_time_h'], rows);
}
