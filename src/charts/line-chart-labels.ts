import type { LineDrawing } from './line-chart-drawing.ts';
import { curveAt } from './line-chart-frame.ts';
import { curvePieces } from './line-pieces.ts';
import type { Box, LabelRequest } from './place-labels.ts';
import { signedPercent } from './tick-text.ts';

export interface LineLabel extends LabelRequest {
  readonly text: string;
  readonly kind: string;
}

/** Where along the curve its name may stand, as parts of the axis, best first. */
const PARTS = [0.62, 0.5, 0.75, 0.38, 0.85, 0.25, 0.12, 0.55, 0.45, 0.68, 0.32, 0.8, 0.92, 0.06];

/** What is written on the lines, most important first, with the places each may take. */
export function lineLabels(
  drawing: LineDrawing,
  xDomain: readonly [number, number],
  yDomain: readonly [number, number],
  width: (text: string) => number,
): LineLabel[] {
  const {
    frame: { plot, x, y },
    curves,
    wanted,
  } = drawing;
  const pieces = linePiecesOf(drawing);
  const labels: LineLabel[] = [];
  const add = (id: string, kind: string, text: string, candidates: number[]): void => {
    labels.push({
      id,
      kind,
      text,
      width: width(text) + 6,
      height: 16,
      candidates,
      lines: [...pieces].filter(([name]) => name !== id).flatMap(([, boxes]) => boxes),
      own: pieces.get(id) ?? [],
      // A line without its name says less than a name over a line, on its halo; a zone explains itself.
      needed: kind !== 'zone',
    });
  };
  for (const curve of curves) {
    const places: number[] = [];
    const half = width(curve.label) / 2;
    for (const part of PARTS) {
      const at = xDomain[0] + part * (xDomain[1] - xDomain[0]);
      const value = curveAt(curve.x, curve.y, at);
      if (!Number.isFinite(value) || value < yDomain[0]) continue;
      const px = x(at);
      const py = y(value);
      if (curve.stroke === 'first') places.push(px + half * 0.9, py - 16, px, py - 22, px + half, py - 30, px, py + 22);
      else places.push(px - half * 0.9, py + 18, px, py + 24, px - half, py + 34, px, py - 20);
    }
    // Where the curve is steep, or two run close together, there is room beside it.
    const sides = curve.stroke === 'first' ? [1, -1] : [-1, 1];
    for (const side of sides) {
      for (let part = 0.96; part > 0; part -= 0.03) {
        const at = xDomain[0] + part * (xDomain[1] - xDomain[0]);
        const value = curveAt(curve.x, curve.y, at);
        if (Number.isFinite(value) && value >= yDomain[0]) places.push(x(at) + side * (half + 9), y(value));
      }
    }
    add(curve.id, curve.stroke, curve.label, places);
  }
  const ends = (text: string): number[] => {
    const half = width(text) / 2 + 4;
    const [left, right] = [plot.x + half + 2, plot.x + plot.width - half - 2];
    return [0, 1, 0.5, 0.15, 0.85, 0.3, 0.7].map((part) => left + part * (right - left));
  };
  if (wanted > 0) {
    const text = `${signedPercent(wanted)} wanted`;
    const py = y(wanted);
    add(
      'wanted',
      'wanted',
      text,
      ends(text).flatMap((px) => [px, py - 12, px, py + 13]),
    );
  }
  if (y(yDomain[0]) - y(0) > 16) {
    const text = 'collapses';
    const py = (y(0) + y(yDomain[0])) / 2;
    add(
      'zone',
      'zone',
      text,
      ends(text).flatMap((px) => [px, py]),
    );
  }
  return labels;
}

/** Curves and level lines in pieces, by what they are called. */
function linePiecesOf({ frame, curves, wanted }: LineDrawing): Map<string, Box[]> {
  const { plot, y } = frame;
  const across = (level: number): Box[] =>
    curvePieces([0, 1], [level, level], { x: (part) => plot.x + part * plot.width, y });
  return new Map([
    ...curves.map((curve) => [curve.id, curvePieces(curve.x, curve.y, frame)] as const),
    ['zero', across(0)],
    ...(wanted > 0 ? [['wanted', across(wanted)] as const] : []),
  ]);
}
