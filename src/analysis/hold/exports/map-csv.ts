/** The tolerance map as a table. */
import type { OffsetMap } from '../../types.ts';
import { insideRings } from '../ring-geometry.ts';
import { csvField } from './text-escape.ts';

/** Column headings: name and unit, in this order. */
export const MAP_COLUMNS = [
  'x_mm',
  'y_mm',
  'gap_mm',
  'max_output_A',
  'demand_A',
  'margin_percent',
  'coupling',
  'mutual_inductance_H',
  'wakes',
  'safe',
] as const;

/** A place without the dust of binary fractions: to a millionth of a micrometre. */
const place = (mm: number): number => Number(mm.toFixed(9));

/**
 * One record per grid point, RFC 4180 (CRLF, header line), numbers at full precision with a decimal point; an unknown number
 * is an empty field. `wakes` and `safe` are 1 or 0.
 */
export function mapCsv(map: OffsetMap): string {
  const lines = [MAP_COLUMNS.join(',')];
  const nx = map.xMm.length;
  map.yMm.forEach((y, j) => {
    map.xMm.forEach((x, i) => {
      const k = j * nx + i;
      lines.push(
        [
          place(x),
          place(y),
          place(map.gapMm),
          map.maxOutputA[k],
          map.demandA,
          map.marginPercent[k],
          map.coupling[k],
          map.mutualInductanceH[k],
          map.wakes[k],
          insideRings(map.safeOutline, x, y) ? 1 : 0,
        ]
          .map(csvField)
          .join(','),
      );
    });
  });
  return `${lines.join('\r\n')}\r\n`;
}

/** Any table with text in it (force tables, lottery, stacks): headings and rows, RFC 4180. */
export function tableCsv(headings: readonly string[], rows: readonly (readonly (string | number)[])[]): string {
  return `${[headings, ...rows].map((row) => row.map(csvField).join(',')).join('\r\n')}\r\n`;
}
