import type { OffsetMap } from '../analysis/types.ts';
import { type AreaRings, areaAbove, linesAt, type OffsetGrid } from './contours.ts';

/** A wash between two levels of margin; `tone` 1 (just held) to 6 (ample). */
export interface MarginWash {
  readonly levelPercent: number;
  readonly tone: number;
  readonly area: AreaRings;
}

export interface PeakLine {
  readonly name: string;
  readonly currentA: number;
  readonly lines: readonly Float64Array[];
}

/** Everything the map draws that depends on the answer alone, in mm. */
export interface MarginShapes {
  readonly grid: OffsetGrid;
  readonly washes: readonly MarginWash[];
  readonly zero: readonly Float64Array[];
  readonly wanted: readonly Float64Array[];
  /** Thin lines between the washes, with their level. */
  readonly steps: readonly { readonly levelPercent: number; readonly lines: readonly Float64Array[] }[];
  readonly wake: readonly Float64Array[];
  readonly peaks: readonly PeakLine[];
}

const TONES = 6;
const STEPS = [10, 20, 25, 50, 100, 200, 500];

/**
 * Levels between the washes, in percent: zero, the wanted margin, then even steps up to the largest value, at most six
 * washes in all.
 */
export function marginLevels(largestPercent: number, wantedPercent: number): number[] {
  const start = wantedPercent > 0 ? [0, wantedPercent] : [0];
  const room = TONES - start.length;
  const above = Math.max(0, largestPercent - wantedPercent);
  const step = STEPS.find((s) => above / s <= room + 0.999) ?? STEPS[STEPS.length - 1];
  const levels = [...start];
  const first = Math.floor(wantedPercent / step + 1) * step;
  for (let level = first; level < largestPercent && levels.length < TONES; level += step) levels.push(level);
  return levels;
}

function largest(values: ArrayLike<number>): number {
  let max = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i += 1) if (values[i] > max) max = values[i];
  return max;
}

/** Rings without the stretches that run along the border of the computed square. */
function withoutBorder(rings: readonly Float64Array[], map: OffsetMap): Float64Array[] {
  const step = Math.abs(map.xMm[1] - map.xMm[0]) / 2;
  const left = map.xMm[0] + step;
  const right = map.xMm[map.xMm.length - 1] - step;
  const bottom = map.yMm[0] + step;
  const top = map.yMm[map.yMm.length - 1] - step;
  const lines: Float64Array[] = [];
  for (const ring of rings) {
    const count = ring.length / 2;
    const border = (i: number): boolean => {
      const x = ring[2 * i];
      const y = ring[2 * i + 1];
      return x < left || x > right || y < bottom || y > top;
    };
    let start = 0;
    while (start < count && !border(start)) start += 1;
    let run: number[] = [];
    for (let n = 0; n <= count; n += 1) {
      const i = (start + n) % count;
      const previous = (i + count - 1) % count;
      if (n > 0 && border(i) && border(previous)) {
        if (run.length >= 4) lines.push(Float64Array.from(run));
        run = [];
      }
      if (n > 0 && run.length === 0 && !(border(i) && border(previous))) {
        run.push(ring[2 * previous], ring[2 * previous + 1]);
      }
      if (run.length > 0) run.push(ring[2 * i], ring[2 * i + 1]);
    }
    if (run.length >= 4) lines.push(Float64Array.from(run));
  }
  return lines;
}

const known = new WeakMap<OffsetMap, { key: string; shapes: MarginShapes }>();

/**
 * Washes and lines of a map. Remembered per map, so that dragging over it costs nothing.
 * @param peaks short loads to draw a line for: where the largest short current just equals theirs
 */
export function marginShapes(
  map: OffsetMap,
  peaks: readonly { readonly name: string; readonly currentA: number }[],
): MarginShapes {
  const key = JSON.stringify(peaks);
  const remembered = known.get(map);
  if (remembered?.key === key) return remembered.shapes;
  const grid: OffsetGrid = { xMm: map.xMm, yMm: map.yMm, values: map.marginPercent };
  const current: OffsetGrid = { xMm: map.xMm, yMm: map.yMm, values: map.peakOutputA };
  const levels = marginLevels(largest(map.marginPercent), map.wantedMarginPercent);
  const tones = levels.map((_, i) =>
    levels.length <= 1 ? TONES : 1 + Math.round((i * (TONES - 1)) / (levels.length - 1)),
  );
  const shapes: MarginShapes = {
    grid,
    washes: levels.map((levelPercent, i) => ({ levelPercent, tone: tones[i], area: areaAbove(grid, levelPercent) })),
    zero: linesAt(grid, 0),
    wanted: map.wantedMarginPercent > 0 ? linesAt(grid, map.wantedMarginPercent) : [],
    steps: levels
      .filter((level) => level > map.wantedMarginPercent)
      .map((levelPercent) => ({ levelPercent, lines: linesAt(grid, levelPercent) })),
    wake: withoutBorder(map.wakeOutline, map),
    peaks: peaks.map((peak) => ({ ...peak, lines: linesAt(current, peak.currentA) })),
  };
  known.set(map, { key, shapes });
  return shapes;
}
