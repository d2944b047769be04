import type { OffsetMap } from '../analysis/types.ts';
import type { Design } from '../design/types.ts';

/** A closed ring as a list of points. */
function points(ring: Float64Array): [number, number][] {
  return Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i], ring[2 * i + 1]]);
}

/** What `map --json` prints: the answer's own fields, rings as lists of points. */
export function mapDocument(map: OffsetMap, design: Design, defaultsTaken: readonly string[]): unknown {
  const { safeOutline, collapseOutline, wakeOutline, xMm, yMm, ...rest } = map;
  return {
    title: design.title,
    order: 'row-major: entry [y * xMm.length + x]; rings are closed, points [x, y] in mm, outer boundary first',
    xMm,
    yMm,
    safeOutline: safeOutline.map(points),
    collapseOutline: collapseOutline.map(points),
    wakeOutline: wakeOutline.map(points),
    ...rest,
    defaultsTaken,
  };
}
