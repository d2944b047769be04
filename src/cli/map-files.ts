import type { OffsetMap } from '../analysis/types.ts';
import type { Design } from '../design/types.ts';
import { csvText } from './csv.ts';

/** A closed ring as a list of points. */
function points(ring: Float64Array): [number, number][] {
  return Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i], ring[2 * i + 1]]);
}

/** The map as one self-describing JSON object: what `map --json` prints and map.json holds. */
export function mapDocument(map: OffsetMap, design: Design, defaultsTaken: readonly string[]): unknown {
  const { safeOutline, collapseOutline, wakeOutline, xMm, yMm, ...rest } = map;
  return {
    format: 'offcentre-map',
    version: 1,
    title: design.title,
    description:
      "Margin over the receiver's sideways offset. Lists are row-major: entry [y * xMm.length + x]; x and y are the receiver's centre from the transmitter's axis in mm. Outlines are closed rings of points [x, y] in mm, the outer boundary first, holes after.",
    xMm,
    yMm,
    safeOutline: safeOutline.map(points),
    collapseOutline: collapseOutline.map(points),
    wakeOutline: wakeOutline.map(points),
    ...rest,
    defaultsTaken,
  };
}

/** One row a point: offset, most current, margin, coupling, mutual inductance, whether it wakes. */
export function mapCsv(map: OffsetMap): string {
  const head = ['x_mm', 'y_mm', 'max_output_A', 'margin_percent', 'coupling', 'mutual_inductance_H', 'wakes'];
  const rows: number[][] = [];
  for (let j = 0; j < map.yMm.length; j++) {
    for (let i = 0; i < map.xMm.length; i++) {
      const at = j * map.xMm.length + i;
      rows.push([
        map.xMm[i],
        map.yMm[j],
        map.maxOutputA[at],
        map.marginPercent[at],
        map.coupling[at],
        map.mutualInductanceH[at],
        map.wakes[at],
      ]);
    }
  }
  return csvText([head, ...rows]);
}
