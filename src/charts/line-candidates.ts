import type { Projection } from './svg-path.ts';

/**
 * Places along lines where a label could stand, best first: near the wanted direction from the centre, and where the
 * line runs level, so that the text lies along it.
 *
 * @param lines flat x y, in the drawing's unit
 * @param directionDeg preferred direction from (0, 0), counter-clockwise from +x
 * @returns flat x y in px
 */
export function alongLines(lines: readonly Float64Array[], to: Projection, directionDeg: number): number[] {
  const found: { x: number; y: number; cost: number }[] = [];
  for (const line of lines) {
    const count = line.length / 2;
    const stride = Math.max(1, Math.floor(count / 60));
    for (let i = 1; i < count - 1; i += stride) {
      const x = line[2 * i];
      const y = line[2 * i + 1];
      const tx = line[2 * i + 2] - line[2 * i - 2];
      const ty = line[2 * i + 3] - line[2 * i - 1];
      const length = Math.hypot(tx, ty) || 1;
      const away = Math.abs((((((Math.atan2(y, x) * 180) / Math.PI - directionDeg) % 360) + 540) % 360) - 180);
      found.push({ x: to.x(x), y: to.y(y), cost: away / 60 + 1.2 * Math.abs(ty / length) });
    }
  }
  found.sort((a, b) => a.cost - b.cost);
  return found.flatMap((place) => [place.x, place.y]);
}

/** Places round a point at which its label could stand, best first: right above, then round; flat x y in px. */
export function around(x: number, y: number, halfWidth: number, distance: number): number[] {
  const places: number[] = [];
  for (const reach of [1, 1.5, 2.2, 3.2]) {
    const d = distance * reach;
    places.push(x + halfWidth + d, y - d * 0.4, x, y - d - 4, x, y + d + 4, x - halfWidth - d, y - d * 0.4);
    places.push(
      x + halfWidth + d,
      y + d,
      x - halfWidth - d,
      y + d,
      x + halfWidth * 0.7,
      y - d - 6,
      x - halfWidth * 0.7,
      y - d - 6,
    );
  }
  return places;
}
