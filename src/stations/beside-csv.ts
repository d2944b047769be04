import { tableCsv } from '../analysis/hold/exports/map-csv.ts';
import type { OffsetMap } from '../analysis/types.ts';

/** Both safe outlines as one table of points, in mm. */
export function besideCsv(here: OffsetMap | null, there: OffsetMap | null): string {
  const rows: (string | number)[][] = [];
  for (const [name, map] of [
    ['on the table', here],
    ['beside', there],
  ] as const) {
    map?.safeOutline.forEach((ring, index) => {
      for (let i = 0; i < ring.length; i += 2) rows.push([name, index, ring[i]!, ring[i + 1]!]);
    });
  }
  return tableCsv(['design', 'ring', 'x_mm', 'y_mm'], rows);
}
