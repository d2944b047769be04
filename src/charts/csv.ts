import { tableCsv } from '../analysis/hold/exports/map-csv.ts';
import type { LineSweep } from '../analysis/types.ts';

/** Curves as one table; each row names its curve, since they need not share their points. */
export function sweepsCsv(sweeps: readonly { readonly name: string; readonly sweep: LineSweep }[]): string {
  const rows: (string | number)[][] = [];
  for (const { name, sweep } of sweeps) {
    const unit = sweep.axis === 'yaw' || sweep.axis === 'tiltX' || sweep.axis === 'tiltY' ? 'deg' : 'mm';
    for (let i = 0; i < sweep.at.length; i += 1) {
      rows.push([
        name,
        sweep.axis,
        sweep.at[i],
        unit,
        sweep.maxOutputA[i],
        sweep.marginPercent[i],
        sweep.marginLowPercent[i],
        sweep.marginHighPercent[i],
        sweep.coupling[i],
        sweep.efficiency[i],
        sweep.frequencyHz[i],
        sweep.states[i] ?? '',
      ]);
    }
  }
  const margins = ['max_output_A', 'margin_percent', 'margin_low_percent', 'margin_high_percent'];
  return tableCsv(['curve', 'axis', 'at', 'unit', ...margins, 'coupling', 'efficiency', 'frequency_Hz', 'state'], rows);
}

/** The stack as a table, from the transmitter up, with the gap it makes or that stands alone. */
export function layersCsv(
  layers: readonly { readonly name: string; readonly thicknessMm: number; readonly toleranceMm: number }[],
  gapMm: number,
): string {
  const rows: (string | number)[][] = layers.map((layer) => [layer.name, layer.thicknessMm, layer.toleranceMm]);
  return tableCsv(['layer', 'thickness_mm', 'tolerance_mm'], [...rows, ['gap', gapMm, '']]);
}
