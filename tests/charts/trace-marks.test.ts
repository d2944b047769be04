import { describe, expect, it } from 'vitest';
import {
  added,
  afterSelected,
  type BoardMarks,
  mirrorImage,
  movedMark,
  placeOf,
  removed,
} from '../../src/charts/trace-marks.ts';

const marks = (points: BoardMarks['points'], selected = -1): BoardMarks => ({
  points,
  selected,
  from: [0, 0],
  to: [9, 0],
  corners: [
    [0, 0],
    [9, 0],
    [9, 5],
    [0, 5],
  ],
});
const SQUARE = marks([
  [0, 0],
  [100, 0],
  [100, 100],
  [0, 100],
]);

describe('marks over a picture', () => {
  it('move one at a time: a point, an end of the scale, a corner', () => {
    for (const mark of [2, 'from', 'to', 'corner-0', 'corner-3'] as const) {
      const moved = movedMark(SQUARE, mark, [33, 44]);
      expect(placeOf(moved, mark)).toEqual([33, 44]);
      const back = movedMark(moved, mark, placeOf(SQUARE, mark) ?? [0, 0]);
      expect({ ...back, selected: -1 }).toEqual(SQUARE);
    }
    expect(placeOf(SQUARE, 7)).toBeUndefined();
  });

  it('put a point into the side it lies on, and else behind the last', () => {
    expect(added(SQUARE, [50, 4], 9, false)).toMatchObject({ selected: 1, points: { length: 5 } });
    expect(added(SQUARE, [3, 50], 9, false).selected).toBe(4);
    expect(added(SQUARE, [50, 40], 9, false).selected).toBe(4);
    // With one half traced the closing side is the axis, and takes none.
    expect(added(SQUARE, [3, 50], 9, true).points.at(-1)).toEqual([3, 50]);
    expect(added(marks([]), [7, 8], 9, false)).toMatchObject({ selected: 0, points: [[7, 8]] });
  });

  it('grow from the keyboard: the first in the middle, then beside, then half way', () => {
    const one = afterSelected(marks([]), [50, 60], 10);
    expect(one).toMatchObject({ points: [[50, 60]], selected: 0 });
    const two = afterSelected(one, [0, 0], 10);
    expect(two).toMatchObject({
      points: [
        [50, 60],
        [60, 60],
      ],
      selected: 1,
    });
    expect(afterSelected({ ...SQUARE, selected: 3 }, [0, 0], 10).points[4]).toEqual([0, 50]);
  });

  it('go, and leave the one before chosen', () => {
    expect(removed({ ...SQUARE, selected: 2 })).toMatchObject({ selected: 1, points: { length: 3 } });
    expect(removed(marks([[1, 1]], 0))).toMatchObject({ selected: -1, points: [] });
  });

  it('move alone', () => {
    expect(movedMark(SQUARE, 1, [90, 5])).toMatchObject({
      selected: 1,
      points: [
        [0, 0],
        [90, 5],
        [100, 100],
        [0, 100],
      ],
    });
    expect(movedMark(SQUARE, 'to', [20, 1])).toEqual({ ...SQUARE, to: [20, 1] });
  });

  it('mirror about the line through first and last', () => {
    expect(
      mirrorImage([
        [0, 0],
        [5, 3],
        [10, 0],
      ]),
    ).toEqual([
      [0, 0],
      [5, -3],
      [10, 0],
    ]);
    const there = [
      [1, 2],
      [7, 3],
      [4, 9],
    ] as const;
    mirrorImage(mirrorImage(there)).forEach(([x, y], i) => {
      expect(x).toBeCloseTo(there[i]![0], 9);
      expect(y).toBeCloseTo(there[i]![1], 9);
    });
  });
});
