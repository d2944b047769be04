import type { BoardMarks, BoardPoint } from './trace-marks.ts';

/** A word beside the scale, where it stands in px of the screen, and how it is set. */
type ScaleWord = readonly [text: string, place: BoardPoint, anchor: 'start' | 'middle' | 'end'];

/** Between a mark and its word, px of the screen. */
const APART = 16;

function half(a: BoardPoint, b: BoardPoint): BoardPoint {
  return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
}

/** The length over the middle of the scale. */
export function lengthWords(from: BoardPoint, to: BoardPoint, zoom: number, text: string): readonly ScaleWord[] {
  const [x, y] = half(from, to);
  return [[text, [x * zoom, y * zoom - 9], 'middle']];
}

/** Both sides of the rectangle and the numbers of its corners, outside it. */
export function rectangleWords(
  corners: BoardMarks['corners'],
  zoom: number,
  [width, height]: readonly [string, string],
): readonly ScaleWord[] {
  const middle = half(half(corners[0], corners[2]), half(corners[1], corners[3]));
  const outside = (text: string, [x, y]: BoardPoint): ScaleWord => {
    const [dx, dy] = [x - middle[0], y - middle[1]];
    const away = APART / (Math.hypot(dx, dy) || 1);
    const anchor = Math.abs(dx) < Math.abs(dy) ? 'middle' : dx > 0 ? 'start' : 'end';
    // Text stands on its base line: a few px lower it is level with the mark.
    return [text, [x * zoom + away * dx, y * zoom + away * dy + 4], anchor];
  };
  return [
    outside(width, half(corners[0], corners[1])),
    outside(height, half(corners[1], corners[2])),
    ...corners.map((corner, i) => outside(`${i + 1}`, corner)),
  ];
}
