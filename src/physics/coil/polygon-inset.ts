/**
 * A simple polygon moved inwards side by side with mitred corners. Sides that shrink to nothing are left out from there
 * on and their neighbours meet instead, so that rounded shapes given by many points stay windable.
 */
export interface PolygonInset {
  /** Inset at which no area is left, or where fewer than three sides remain, m. */
  readonly vanishesAt: number;
  /** Vertices at an inset below `vanishesAt`, [n, 2] row-major with n the original number of points; merged ones coincide. */
  readonly verticesAt: (inset: number) => Float64Array;
  /** Two neighbouring vertices of them, from the one with this index on: x0, y0, x1, y1. */
  readonly sideAt: (inset: number, index: number) => readonly [number, number, number, number];
}

interface Stage {
  readonly from: number;
  readonly alive: Uint8Array;
}

/**
 * @param points counter-clockwise simple polygon, [n, 2] row-major, without repeated neighbours
 * @param farthest largest inset that will be asked for, m
 * Method: every side's line moves along its inner normal; a vertex is the meeting point of the nearest remaining sides
 * before and after it; side lengths are linear in the inset between collapses, which are found one after another.
 * A polygon that splits in two is not followed: its inset crosses itself, which the caller must test.
 */
export function polygonInset(points: Float64Array, farthest: number): PolygonInset {
  const n = points.length / 2;
  const nx = new Float64Array(n);
  const ny = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const dx = points[2 * j] - points[2 * i];
    const dy = points[2 * j + 1] - points[2 * i + 1];
    const length = Math.hypot(dx, dy);
    nx[i] = -dy / length;
    ny[i] = dx / length;
  }

  const vertexFor = (alive: Uint8Array, inset: number, j: number): readonly [number, number] => {
    let before = (j + n - 1) % n;
    while (!alive[before]) before = (before + n - 1) % n;
    let after = j;
    while (!alive[after]) after = (after + 1) % n;
    const a = nx[before] * points[2 * before] + ny[before] * points[2 * before + 1] + inset;
    const b = nx[after] * points[2 * after] + ny[after] * points[2 * after + 1] + inset;
    const cross = nx[before] * ny[after] - ny[before] * nx[after];
    if (Math.abs(cross) > 1e-9) {
      return [(a * ny[after] - b * ny[before]) / cross, (nx[before] * b - nx[after] * a) / cross];
    }
    // Collinear sides: the shared point moves straight inwards.
    return [points[2 * j] + inset * nx[after], points[2 * j + 1] + inset * ny[after]];
  };
  const verticesFor = (alive: Uint8Array, inset: number): Float64Array => {
    const out = new Float64Array(2 * n);
    for (let j = 0; j < n; j++) out.set(vertexFor(alive, inset, j), 2 * j);
    return out;
  };
  /** Signed length of side i along its own direction. */
  const sideLength = (vertices: Float64Array, i: number): number => {
    const j = (i + 1) % n;
    return (vertices[2 * j] - vertices[2 * i]) * ny[i] - (vertices[2 * j + 1] - vertices[2 * i + 1]) * nx[i];
  };

  let alive = new Uint8Array(n).fill(1);
  const stages: Stage[] = [{ from: 0, alive }];
  let at = 0;
  let vanishesAt = Number.POSITIVE_INFINITY;
  let scale = 0;
  for (let i = 0; i < n; i++) scale = Math.max(scale, Math.abs(points[2 * i]), Math.abs(points[2 * i + 1]));
  const step = Math.max(farthest, 1e-3 * scale);
  for (;;) {
    // Lengths are linear in the inset inside a stage: two samples give each side's collapse.
    const near = verticesFor(alive, at);
    const far = verticesFor(alive, at + step);
    let next = Number.POSITIVE_INFINITY;
    const collapse = new Float64Array(n).fill(Number.POSITIVE_INFINITY);
    for (let i = 0; i < n; i++) {
      if (!alive[i]) continue;
      const now = sideLength(near, i);
      const rate = (sideLength(far, i) - now) / step;
      if (rate >= -1e-12) continue;
      collapse[i] = at + Math.max(0, now / -rate);
      next = Math.min(next, collapse[i]);
    }
    if (next > farthest) break;
    alive = alive.slice();
    for (let i = 0; i < n; i++) if (collapse[i] <= next + 1e-12 * scale) alive[i] = 0;
    const left = alive.reduce((sum, flag) => sum + flag, 0);
    if (left < 3 || turnsBack(alive)) {
      vanishesAt = next;
      break;
    }
    at = next;
    stages.push({ from: at, alive });
  }

  /** Two remaining neighbours that face each other: what is left is a line, not an area. */
  function turnsBack(flags: Uint8Array): boolean {
    const kept: number[] = [];
    for (let i = 0; i < n; i++) if (flags[i]) kept.push(i);
    return kept.some((i, k) => {
      const j = kept[(k + 1) % kept.length];
      return nx[i] * nx[j] + ny[i] * ny[j] < -1 + 1e-12;
    });
  }

  const aliveAt = (inset: number): Uint8Array => {
    let stage = stages[0];
    for (const candidate of stages) if (candidate.from <= inset) stage = candidate;
    return stage.alive;
  };
  return {
    vanishesAt,
    verticesAt: (inset) => verticesFor(aliveAt(inset), inset),
    sideAt(inset, index) {
      const alive = aliveAt(inset);
      return [...vertexFor(alive, inset, index), ...vertexFor(alive, inset, (index + 1) % n)];
    },
  };
}
