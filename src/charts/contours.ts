import { contours as d3contours } from 'd3-contour';

/** A regular grid of values over offset, row-major [y * xMm.length + x]. */
export interface OffsetGrid {
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  readonly values: ArrayLike<number>;
}

/** Area where the value is at or above `level`: polygons of rings (outer first, holes after), each flat x y in mm. */
export type AreaRings = readonly (readonly Float64Array[])[];

interface IndexArea {
  readonly rings: number[][][][];
  readonly toMmX: (index: number) => number;
  readonly toMmY: (index: number) => number;
}

function areaInIndex(grid: OffsetGrid, level: number): IndexArea {
  const columns = grid.xMm.length;
  const rows = grid.yMm.length;
  const values = Array.from(grid.values, (v) => (Number.isFinite(v) ? v : -1e9));
  const area = d3contours().size([columns, rows]).smooth(true).contour(values, level);
  const stepX = (grid.xMm[columns - 1] - grid.xMm[0]) / (columns - 1);
  const stepY = (grid.yMm[rows - 1] - grid.yMm[0]) / (rows - 1);
  return {
    rings: area.coordinates,
    // d3-contour puts sample i at index i + 1/2.
    toMmX: (index) => grid.xMm[0] + (index - 0.5) * stepX,
    toMmY: (index) => grid.yMm[0] + (index - 0.5) * stepY,
  };
}

/**
 * Where the grid's value is at or above `level`. Linear between samples; values that are not finite count as far below.
 * The area reaches half a step beyond the outermost samples: clip it to the plot.
 */
export function areaAbove(grid: OffsetGrid, level: number): AreaRings {
  const { rings, toMmX, toMmY } = areaInIndex(grid, level);
  return rings.map((polygon) =>
    polygon.map((ring) => {
      const flat = new Float64Array(ring.length * 2);
      ring.forEach((point, i) => {
        flat[2 * i] = toMmX(point[0]);
        flat[2 * i + 1] = toMmY(point[1]);
      });
      return flat;
    }),
  );
}

/**
 * The lines along which the value equals `level`: the boundary of `areaAbove` without the stretches that only follow the
 * grid's border. Flat x y in mm; a closed line repeats its first point.
 */
export function linesAt(grid: OffsetGrid, level: number): readonly Float64Array[] {
  const { rings, toMmX, toMmY } = areaInIndex(grid, level);
  const columns = grid.xMm.length;
  const rows = grid.yMm.length;
  const onBorder = (point: number[]): boolean =>
    point[0] <= 0.5 || point[1] <= 0.5 || point[0] >= columns - 0.5 || point[1] >= rows - 0.5;
  const lines: Float64Array[] = [];
  for (const ring of rings.flat()) {
    const points = ring.slice(0, -1);
    const first = points.findIndex(onBorder);
    // Start on the border where there is one, so that no line is cut at the ring's arbitrary first point.
    const turned = first < 0 ? ring : [...points.slice(first), ...points.slice(0, first + 1)];
    let run: number[] = [];
    const close = (): void => {
      if (run.length >= 4) lines.push(Float64Array.from(run));
      run = [];
    };
    for (let i = 1; i < turned.length; i += 1) {
      const from = turned[i - 1];
      const to = turned[i];
      if (onBorder(from) && onBorder(to)) {
        close();
        continue;
      }
      if (run.length === 0) run.push(toMmX(from[0]), toMmY(from[1]));
      run.push(toMmX(to[0]), toMmY(to[1]));
    }
    close();
  }
  return lines;
}

/** Value at a point by bilinear interpolation; NaN outside the grid. */
export function valueAt(grid: OffsetGrid, xMm: number, yMm: number): number {
  const columns = grid.xMm.length;
  const rows = grid.yMm.length;
  const column = ((xMm - grid.xMm[0]) / (grid.xMm[columns - 1] - grid.xMm[0])) * (columns - 1);
  const row = ((yMm - grid.yMm[0]) / (grid.yMm[rows - 1] - grid.yMm[0])) * (rows - 1);
  if (!(column >= 0 && row >= 0 && column <= columns - 1 && row <= rows - 1)) return Number.NaN;
  const c = Math.min(Math.floor(column), columns - 2);
  const r = Math.min(Math.floor(row), rows - 2);
  const u = column - c;
  const v = row - r;
  const at = (rr: number, cc: number): number => grid.values[rr * columns + cc];
  return (1 - v) * ((1 - u) * at(r, c) + u * at(r, c + 1)) + v * ((1 - u) * at(r + 1, c) + u * at(r + 1, c + 1));
}
