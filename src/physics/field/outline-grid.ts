import type { PlateOutline } from '../coil/types.ts';

/**
 * Quarter of a plate as a boundary-fitted lattice of quadrilaterals: cellsX by cellsY cells between the axes and the
 * rim, nodes [i, j] at index i * (cellsY + 1) + j, i from the y axis to the rim, j from the x axis to the rim.
 */
export interface OutlineGrid {
  readonly cellsX: number;
  readonly cellsY: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** Half-width, half-height and corner radius of any outline. */
export interface OutlineBox {
  readonly halfWidth: number;
  readonly halfHeight: number;
  readonly radius: number;
}

export function outlineBox(outline: PlateOutline): OutlineBox {
  if (outline.shape === 'circle') {
    const r = outline.diameter / 2;
    return { halfWidth: r, halfHeight: r, radius: r };
  }
  const halfWidth = outline.width / 2;
  const halfHeight = outline.height / 2;
  const radius = outline.shape === 'stadium' ? Math.min(halfWidth, halfHeight) : outline.cornerRadius;
  return { halfWidth, halfHeight, radius };
}

/** Area of the outline, m2. */
export function outlineArea(outline: PlateOutline): number {
  const { halfWidth, halfHeight, radius } = outlineBox(outline);
  return 4 * halfWidth * halfHeight - (4 - Math.PI) * radius * radius;
}

/** `rim`: cells shrink towards the rim; `even`: they do not. */
export type Grading = 'rim' | 'even';

/** Distance from the rim after k unit cells, up to a factor. */
const PROFILES: Record<Grading, (k: number) => number> = {
  // Growing as the square in the first unit, even from there on.
  rim: (k) => (k <= 1 ? k * k : 2 * k - 1),
  even: (k) => k,
};

/**
 * Lattice of an outline at a refinement level. Counts are proportional to the level, and levels of one `cell` are
 * self-similar (but for corners smaller than half a cell), so that results of two levels extrapolate.
 *
 * With `rim` grading cells shrink towards the rim as the square root of the distance, because the charge there grows as
 * its inverse square root; from the unit cell inwards they are even. Round corners are cut into rings of a disc,
 * `I, J` on ring max(I, J) at the angle 45 deg J/I, their vertices moved out so that the polygon keeps the area.
 *
 * @param cell wanted size of the even cells at level 1, m; level n has cells of about cell / n
 * @param level whole number >= 1
 */
export function outlineGrid(box: OutlineBox, cell: number, level: number, grading: Grading = 'rim'): OutlineGrid {
  const { halfWidth, halfHeight, radius } = box;
  const rimProfile = PROFILES[grading];
  const spare = grading === 'rim' ? 0.5 : 0;
  const units = (half: number) => Math.max(2, Math.round(half / cell + spare));
  const round = radius > 0.999999 * Math.min(halfWidth, halfHeight);
  let unitsX = units(halfWidth);
  let unitsY = units(halfHeight);
  let cornerUnits = radius > 0.35 * cell ? Math.max(1, Math.round(radius / cell + spare)) : 0;
  if (round) {
    cornerUnits = Math.min(unitsX, unitsY);
    const straight = (half: number) => (half > radius * 1.000001 ? Math.max(1, Math.round((half - radius) / cell)) : 0);
    unitsX = cornerUnits + straight(halfWidth);
    unitsY = cornerUnits + straight(halfHeight);
  } else {
    cornerUnits = Math.min(cornerUnits, unitsX - 1, unitsY - 1);
  }
  const rimUnits = Math.max(1, cornerUnits);
  const even = Math.min(halfWidth / unitsX, halfHeight / unitsY);
  const rimWidth = cornerUnits > 0 ? radius : grading === 'rim' ? cell / 2 : even;
  const rimDistance = (k: number) => (rimWidth * rimProfile(k)) / rimProfile(rimUnits);
  const line = (fromRim: number, half: number, count: number) => {
    const k = fromRim / level;
    return (
      half - (k <= rimUnits ? rimDistance(k) : rimWidth + ((half - rimWidth) * (k - rimUnits)) / (count - rimUnits))
    );
  };
  // Lines that bend around the corner, and the radius of the outermost of them.
  let rings = cornerUnits * level;
  if (rings === 0) {
    rings = 1;
    // The bent lines must hold the corner's missing area, or a cell would fold over.
    const folds = () => rimDistance(rings / level) < 0.8 * radius;
    const nextIsNearer = () =>
      Math.abs(rimDistance((rings + 1) / level) - radius) < Math.abs(rimDistance(rings / level) - radius);
    while (rings < level && (folds() || nextIsNearer())) rings++;
  }
  const bend = rimDistance(rings / level);
  const cornerArea = bend * bend - (1 - Math.PI / 4) * radius * radius;
  const cellsX = unitsX * level;
  const cellsY = unitsY * level;
  const x = new Float64Array((cellsX + 1) * (cellsY + 1));
  const y = new Float64Array(x.length);
  // A vertex at 0 or 90 degrees stays on the straight side it joins, unless there is none.
  const freeX = round && halfHeight <= halfWidth * 1.000001;
  const freeY = round && halfWidth <= halfHeight * 1.000001;
  for (let i = 0; i <= cellsX; i++) {
    for (let j = 0; j <= cellsY; j++) {
      const at = i * (cellsY + 1) + j;
      const u = i - (cellsX - rings);
      const v = j - (cellsY - rings);
      x[at] = i === 0 ? 0 : line(cellsX - i, halfWidth, unitsX);
      y[at] = j === 0 ? 0 : line(cellsY - j, halfHeight, unitsY);
      if (u < 0 || v < 0 || u + v === 0) continue;
      const ring = Math.max(u, v);
      const r = bend - rimDistance((rings - ring) / level);
      const angle = ((v <= u ? v / u / 2 : 1 - u / v / 2) * Math.PI) / 2;
      const fixed = (freeX ? 0 : 1) + (freeY ? 0 : 1);
      const spread = (v > 0 || freeX) && (u > 0 || freeY) ? arcScale(2 * ring, fixed, cornerArea / (bend * bend)) : 1;
      x[at] = u === 0 ? halfWidth - bend : halfWidth - bend + r * spread * Math.cos(angle);
      y[at] = v === 0 ? halfHeight - bend : halfHeight - bend + r * spread * Math.sin(angle);
    }
  }
  return { cellsX, cellsY, x, y };
}

/**
 * Factor s on the vertices of a quarter arc of unit radius cut into `chords`, `fixed` of whose two ends stay, that
 * gives the polygon the wanted area: (free s^2 + fixed s) sin(90 deg / chords) / 2.
 */
function arcScale(chords: number, fixed: number, area: number): number {
  const target = (2 * area) / Math.sin(Math.PI / 2 / chords);
  const free = chords - fixed;
  return free > 0 ? (-fixed + Math.sqrt(fixed * fixed + 4 * free * target)) / (2 * free) : target / fixed;
}
