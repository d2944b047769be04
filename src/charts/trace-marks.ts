/** A point of a picture, px: x to the right, y down. */
export type BoardPoint = readonly [number, number];

/** What lies over a picture: an outline, which of its points is selected (-1: none), and a scale's two ends. */
export interface BoardMarks {
  readonly points: readonly BoardPoint[];
  readonly selected: number;
  readonly from: BoardPoint;
  readonly to: BoardPoint;
  /** Of a rectangle that is known in the picture, clockwise. */
  readonly corners: readonly [BoardPoint, BoardPoint, BoardPoint, BoardPoint];
}

/** A corner of the rectangle. */
export const CORNERS = ['corner-0', 'corner-1', 'corner-2', 'corner-3'] as const;

/** One mark: a point by its index, an end of the scale, or a corner of the rectangle. */
export type TracedMark = number | 'from' | 'to' | (typeof CORNERS)[number];

/** Where a mark lies; undefined where there is none such. */
export function placeOf(marks: BoardMarks, mark: TracedMark): BoardPoint | undefined {
  if (typeof mark === 'number') return marks.points[mark];
  return mark === 'from' || mark === 'to' ? marks[mark] : marks.corners[CORNERS.indexOf(mark)];
}

/** One mark elsewhere; a point is selected by it. */
export function movedMark(marks: BoardMarks, mark: TracedMark, to: BoardPoint): BoardMarks {
  if (mark === 'from' || mark === 'to') return { ...marks, [mark]: to };
  if (typeof mark !== 'number') {
    const corners = marks.corners.map((corner, i) => (CORNERS[i] === mark ? to : corner));
    return { ...marks, corners: corners as unknown as BoardMarks['corners'] };
  }
  return { ...marks, selected: mark, points: marks.points.map((point, i) => (i === mark ? to : point)) };
}

/**
 * One point more, selected: into the side it lies on (within `near`), else behind the last.
 *
 * @param half the closing side is an axis of symmetry and takes no points
 */
export function added(marks: BoardMarks, at: BoardPoint, near: number, half: boolean): BoardMarks {
  const { points } = marks;
  const sides = points.length < 2 ? 0 : half || points.length < 3 ? points.length - 1 : points.length;
  let best = near;
  let index = points.length;
  for (let i = 0; i < sides; i++) {
    const distance = fromSide(at, points[i]!, points[(i + 1) % points.length]!);
    if (distance < best) {
      best = distance;
      index = i + 1;
    }
  }
  return { ...marks, points: points.toSpliced(index, 0, at), selected: index };
}

/** One point more behind the selected one: half way to the next, `apart` beside it where there is none, or `middle`. */
export function afterSelected(marks: BoardMarks, middle: BoardPoint, apart: number): BoardMarks {
  const { points } = marks;
  if (points.length === 0) return { ...marks, points: [middle], selected: 0 };
  const from = marks.selected < 0 ? points.length - 1 : marks.selected;
  const here = points[from]!;
  const next = points.length > 2 || from + 1 < points.length ? points[(from + 1) % points.length]! : null;
  const at: BoardPoint = next ? [(here[0] + next[0]) / 2, (here[1] + next[1]) / 2] : [here[0] + apart, here[1]];
  return { ...marks, points: points.toSpliced(from + 1, 0, at), selected: from + 1 };
}

/** Without the selected point; the one before it is selected then. */
export function removed(marks: BoardMarks): BoardMarks {
  const points = marks.points.toSpliced(marks.selected, 1);
  return { ...marks, points, selected: points.length === 0 ? -1 : Math.max(0, marks.selected - 1) };
}

/** The points' mirror image about the line through the first and the last. */
export function mirrorImage(points: readonly BoardPoint[]): readonly BoardPoint[] {
  const [a, b] = [points[0], points.at(-1)];
  if (!a || !b) return [];
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const square = dx * dx + dy * dy;
  if (square === 0) return points;
  return points.map(([x, y]) => {
    const t = ((x - a[0]) * dx + (y - a[1]) * dy) / square;
    return [2 * (a[0] + t * dx) - x, 2 * (a[1] + t * dy) - y];
  });
}

function fromSide(p: BoardPoint, a: BoardPoint, b: BoardPoint): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const square = dx * dx + dy * dy;
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square));
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
}
