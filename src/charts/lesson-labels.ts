import type { LessonChartFigure } from './lesson-figure.ts';
import { curvePieces } from './line-pieces.ts';
import { type Box, type LabelRequest, overlaps } from './place-labels.ts';
import type { Projection } from './svg-path.ts';

export interface LessonLabel extends LabelRequest {
  readonly text: string;
  readonly kind: string;
}

const HEIGHT = 16;
/** Part of a curve's way at which its name would stand best, and before which it does not stand: there the lines meet. */
const BEST = 0.62;
const EARLIEST = 0.12;
/** Places along a curve that are tried. */
const TRIED = 40;

/** Half the size of what no label may cover around a dot, px. */
const DOT = 7;

/** Around a point, nearest first; flat x y of centres, px. */
function around(px: number, py: number, width: number, reaches: readonly number[]): number[] {
  const half = width / 2;
  return reaches.flatMap((out) => {
    const [dx, dy] = [half + 9 + (out - 1) * 8, 12 * out];
    return [
      [px + dx, py - dy],
      [px + dx, py + dy],
      [px - dx, py + dy],
      [px - dx, py - dy],
      [px, py - dy - 6],
      [px, py + dy + 8],
    ].flat();
  });
}

/** What is written in the figure of a lesson, limits first, with the places each may take, and what none may cover. */
export function lessonLabels(
  { levels, dots, curves }: Pick<LessonChartFigure, 'levels' | 'dots' | 'curves'>,
  to: Projection,
  plot: Box,
  widthOf: (text: string) => number,
): { readonly labels: readonly LessonLabel[]; readonly obstacles: readonly Box[] } {
  const obstacles = dots.map((dot) => ({
    x: to.x(dot.x) - DOT,
    y: to.y(dot.y) - DOT,
    width: 2 * DOT,
    height: 2 * DOT,
  }));
  const across: Projection = { x: (part) => plot.x + part * plot.width, y: to.y };
  const lines = new Map<string, Box[]>([
    ...levels.map((level, i) => [`level ${i}`, curvePieces([0, 1], [level.y, level.y], across)] as const),
    ...curves.map(
      (curve, i) => [`curve ${i}`, curvePieces(curve.x, curve.y, to).filter((box) => overlaps(box, plot))] as const,
    ),
  ]);
  const ask = (
    id: string,
    kind: string,
    text: string,
    places: (width: number) => number[],
    own = lines.get(id) ?? [],
  ): LessonLabel => {
    const width = widthOf(text) + 4;
    const others = [...lines].filter(([name]) => name !== id).flatMap(([, boxes]) => boxes);
    return { id, kind, text, width, height: HEIGHT, candidates: places(width), lines: others, own, needed: true };
  };
  const right = plot.x + plot.width;
  return {
    obstacles,
    labels: [
      ...levels.map((level, i) =>
        ask(`level ${i}`, 'level', level.label, (width) =>
          Array.from({ length: 9 }, (_, k) => right - 2 - width / 2 - (k * (plot.width - width - 4)) / 8).flatMap(
            (px) => [px, to.y(level.y) - 11, px, to.y(level.y) + 12],
          ),
        ),
      ),
      ...dots.map((dot, i) =>
        ask(
          `dot ${i}`,
          'dot',
          dot.label,
          (width) => around(to.x(dot.x), to.y(dot.y), width, [1, 2, 3]),
          obstacles.slice(i, i + 1),
        ),
      ),
      ...curves.map((curve, i) =>
        ask(`curve ${i}`, curve.stroke, curve.label, (width) => {
          const count = curve.x.length;
          const stride = Math.max(1, Math.floor(count / TRIED));
          return Array.from({ length: Math.floor(count / stride) }, (_, k) => k * stride)
            .filter((k) => k > count * EARLIEST)
            .sort((a, b) => Math.abs(a - count * BEST) - Math.abs(b - count * BEST))
            .flatMap((k) => around(to.x(curve.x[k]!), to.y(curve.y[k]!), width, [1, 1.6]));
        }),
      ),
    ],
  };
}
