/** Tests on closed polygons, [n, 2] row-major without a repeated first point. */

/** Signed area, positive counter-clockwise, m2. */
export function polygonArea(points: Float64Array): number {
  const n = points.length / 2;
  let twice = 0;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    twice += points[2 * i] * points[2 * j + 1] - points[2 * j] * points[2 * i + 1];
  }
  return twice / 2;
}

/** The polygon counter-clockwise, without points closer than `least` to the one before. */
export function tidyPolygon(points: Float64Array, least: number): Float64Array {
  const kept: number[] = [];
  const n = points.length / 2;
  for (let i = 0; i < n; i++) {
    const x = points[2 * i];
    const y = points[2 * i + 1];
    const m = kept.length;
    if (m >= 2 && Math.hypot(x - kept[m - 2], y - kept[m - 1]) <= least) continue;
    kept.push(x, y);
  }
  while (kept.length > 4 && Math.hypot(kept[0] - kept[kept.length - 2], kept[1] - kept[kept.length - 1]) <= least) {
    kept.length -= 2;
  }
  const tidy = Float64Array.from(kept);
  if (polygonArea(tidy) >= 0) return tidy;
  const reversed = new Float64Array(tidy.length);
  const m = tidy.length / 2;
  for (let i = 0; i < m; i++) {
    // Keep the first point first.
    const k = (m - i) % m;
    reversed[2 * i] = tidy[2 * k];
    reversed[2 * i + 1] = tidy[2 * k + 1];
  }
  return reversed;
}

/**
 * The narrowest place of a closed polygon: least distance between two sides that do not follow each other within
 * `skip` along the path, m; 0 where the path crosses itself. Zero-length sides are passed over.
 *
 * @param skip path length below which two sides count as the same bend, m; neighbours are always skipped
 */
export function polygonClearance(
  points: Float64Array,
  skip: number,
): { distance: number; first: number; second: number } {
  const n = points.length / 2;
  const start = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    start[i + 1] = start[i] + Math.hypot(points[2 * j] - points[2 * i], points[2 * j + 1] - points[2 * i + 1]);
  }
  const total = start[n];
  const tiny = 1e-12 * total;
  const reject = 1 + 1e-12;
  let distance = Number.POSITIVE_INFINITY;
  let first = -1;
  let second = -1;
  for (let i = 0; i < n; i++) {
    if (start[i + 1] - start[i] <= tiny) continue;
    const k = (i + 1) % n;
    const middleX = points[2 * i] + points[2 * k];
    const middleY = points[2 * i + 1] + points[2 * k + 1];
    for (let j = i + 1; j < n; j++) {
      if (start[j + 1] - start[j] <= tiny) continue;
      const between = start[j] - start[i + 1];
      const around = total - (start[j + 1] - start[i]);
      if (Math.min(between, around) <= tiny) continue;
      // Middles farther apart than the best distance and both half sides: neither nearer nor crossing.
      const l = (j + 1) % n;
      const mx = points[2 * j] + points[2 * l] - middleX;
      const my = points[2 * j + 1] + points[2 * l + 1] - middleY;
      const near = (2 * distance + start[i + 1] - start[i] + start[j + 1] - start[j]) * reject;
      if (mx * mx + my * my > near * near) continue;
      const crossing = segmentsCross(points, i, j, n);
      if (!crossing && Math.min(between, around) < skip) continue;
      const d = crossing ? 0 : segmentDistance(points, i, j, n);
      if (d < distance) {
        distance = d;
        first = i;
        second = j;
        if (d === 0) return { distance, first, second };
      }
    }
  }
  return { distance, first, second };
}

/** Least interior or exterior angle between neighbouring sides, rad, and where. Pi is straight on. */
export function sharpestCorner(points: Float64Array): { angle: number; vertex: number } {
  const n = points.length / 2;
  let angle = Math.PI;
  let vertex = -1;
  for (let i = 0; i < n; i++) {
    const h = (i + n - 1) % n;
    const j = (i + 1) % n;
    const ax = points[2 * h] - points[2 * i];
    const ay = points[2 * h + 1] - points[2 * i + 1];
    const bx = points[2 * j] - points[2 * i];
    const by = points[2 * j + 1] - points[2 * i + 1];
    const between = Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by));
    if (between < angle) {
      angle = between;
      vertex = i;
    }
  }
  return { angle, vertex };
}

function segmentsCross(p: Float64Array, i: number, j: number, n: number): boolean {
  const k = (i + 1) % n;
  const l = (j + 1) % n;
  const side = (a: number, b: number, c: number) =>
    (p[2 * b] - p[2 * a]) * (p[2 * c + 1] - p[2 * a + 1]) - (p[2 * b + 1] - p[2 * a + 1]) * (p[2 * c] - p[2 * a]);
  return side(i, k, j) * side(i, k, l) < 0 && side(j, l, i) * side(j, l, k) < 0;
}

function segmentDistance(p: Float64Array, i: number, j: number, n: number): number {
  const k = (i + 1) % n;
  const l = (j + 1) % n;
  return Math.min(
    pointSegment(p, i, j, l),
    pointSegment(p, k, j, l),
    pointSegment(p, j, i, k),
    pointSegment(p, l, i, k),
  );
}

function pointSegment(p: Float64Array, c: number, a: number, b: number): number {
  const dx = p[2 * b] - p[2 * a];
  const dy = p[2 * b + 1] - p[2 * a + 1];
  const x = p[2 * c] - p[2 * a];
  const y = p[2 * c + 1] - p[2 * a + 1];
  const at = Math.min(1, Math.max(0, (x * dx + y * dy) / (dx * dx + dy * dy)));
  return Math.hypot(x - at * dx, y - at * dy);
}
