import type { LineSweep, OffsetMap } from '../analysis/types.ts';

/** RFC 4180: fields with a comma, quote or line break stand in quotes. */
function field(value: string | number): string {
  const text = typeof value === 'number' ? (Number.isFinite(value) ? String(value) : '') : value;
  return /[",\r\n]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text;
}

function table(head: readonly string[], rows: Iterable<readonly (string | number)[]>): string {
  const lines = [head.map(field).join(',')];
  for (const row of rows) lines.push(row.map(field).join(','));
  return `${lines.join('\r\n')}\r\n`;
}

/** A map as a table, one row for each offset. */
export function mapCsv(map: OffsetMap): string {
  const rows: number[][] = [];
  const columns = map.xMm.length;
  for (let j = 0; j < map.yMm.length; j += 1) {
    for (let i = 0; i < columns; i += 1) {
      const n = j * columns + i;
      rows.push([
        map.xMm[i],
        map.yMm[j],
        map.maxOutputA[n],
        map.marginPercent[n],
        map.coupling[n],
        map.mutualInductanceH[n],
        map.wakes[n],
      ]);
    }
  }
  return table(['xMm', 'yMm', 'maxOutputA', 'marginPercent', 'coupling', 'mutualInductanceH', 'wakes'], rows);
}

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
  const head = ['curve', 'axis', 'at', 'unit', 'maxOutputA', 'marginPercent', 'marginLowPercent', 'marginHighPercent'];
  return table([...head, 'coupling', 'efficiency', 'frequencyHz', 'state'], rows);
}

/** The stack as a table, from the transmitter up. */
export function layersCsv(
  layers: readonly { readonly name: string; readonly thicknessMm: number; readonly toleranceMm: number }[],
): string {
  return table(
    ['layer', 'thicknessMm', 'toleranceMm'],
    layers.map((layer) => [layer.name, layer.thicknessMm, layer.toleranceMm]),
  );
}
