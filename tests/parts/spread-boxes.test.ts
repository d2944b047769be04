import { describe, expect, test } from 'vitest';
import { boundsFault, naturalStep, steppedValue } from '../../src/parts/number-entry.ts';
import { spreadBoxes, type WantedBox } from '../../src/parts/spread-boxes.ts';

function overlaps(boxes: readonly WantedBox[], centres: readonly { x: number; y: number }[]): number {
  let count = 0;
  for (let i = 0; i < boxes.length; i++)
    for (let j = i + 1; j < boxes.length; j++) {
      const dx = Math.abs(centres[i]!.x - centres[j]!.x);
      const dy = Math.abs(centres[i]!.y - centres[j]!.y);
      if (dx < (boxes[i]!.width + boxes[j]!.width) / 2 - 0.01 && dy < (boxes[i]!.height + boxes[j]!.height) / 2 - 0.01)
        count++;
    }
  return count;
}

/** Small seeded generator (mulberry32). */
function random(seed: number): () => number {
  let a = seed;
  return () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const box = (x: number, y: number, width: number, height: number): WantedBox => ({ x, y, width, height });

describe('spreadBoxes', () => {
  test('where there is no room beside, covers another box rather than what is fixed', () => {
    // The numbers of a receiver off centre on a telephone, its ring and two handles.
    const boxes = [box(150, 122, 56, 25), box(205, 124, 50, 25), box(232, 172, 58, 25), box(315, 122, 58, 25)];
    const fixed = [box(188, 120, 20, 20), box(222, 152, 20, 20), box(272, 125, 20, 20), box(206, 196, 20, 20)];
    const centres = spreadBoxes(boxes, 358, 300, fixed);
    const covering = boxes.flatMap((b, i) =>
      fixed.filter(
        (f) =>
          Math.abs(centres[i].x - f.x) < (b.width + f.width) / 2 - 0.5 &&
          Math.abs(centres[i].y - f.y) < (b.height + f.height) / 2 - 0.5,
      ),
    );
    expect(covering).toEqual([]);
  });

  test('boxes that are apart stay exactly where they are', () => {
    const boxes = [
      { x: 50, y: 50, width: 40, height: 20 },
      { x: 150, y: 50, width: 40, height: 20 },
    ];
    expect(spreadBoxes(boxes, 400, 300)).toEqual([
      { x: 50, y: 50 },
      { x: 150, y: 50 },
    ]);
  });

  test('nothing leaves the picture', () => {
    const [centre] = spreadBoxes([{ x: -30, y: 500, width: 60, height: 20 }], 400, 300);
    expect(centre).toEqual({ x: 30, y: 290 });
  });

  test('coincident boxes come apart', () => {
    const boxes = Array.from({ length: 4 }, () => ({ x: 100, y: 100, width: 60, height: 20 }));
    expect(overlaps(boxes, spreadBoxes(boxes, 400, 300))).toBe(0);
  });

  test('what is fixed stays clear', () => {
    const boxes = [{ x: 100, y: 100, width: 60, height: 20 }];
    const fixed = [{ x: 104, y: 103, width: 14, height: 14 }];
    const [centre] = spreadBoxes(boxes, 400, 300, fixed);
    expect(overlaps([...boxes, ...fixed], [centre!, fixed[0]!])).toBe(0);
  });

  test('seed 7: fourteen labels crowded into a sixth of a phone-sized picture find room', () => {
    const next = random(7);
    for (let round = 0; round < 50; round++) {
      const boxes = Array.from({ length: 14 }, () => ({
        x: 120 + 140 * next(),
        y: 90 + 120 * next(),
        width: 44 + 20 * next(),
        height: 20,
      }));
      expect(overlaps(boxes, spreadBoxes(boxes, 360, 300))).toBe(0);
    }
  });
});

describe('steps and bounds of number fields', () => {
  test('a step suits the size of its number', () => {
    expect(naturalStep(5.9, 'mm')).toBeCloseTo(0.1, 12);
    expect(naturalStep(44, 'mm')).toBe(1);
    expect(naturalStep(0.48, 'A')).toBeCloseTo(0.01, 12);
    expect(naturalStep(108, 'kHz')).toBe(1);
    expect(naturalStep(0, 'mm')).toBe(0.1);
    expect(naturalStep(14, 'turns')).toBe(1);
    expect(naturalStep(0.3, 'count')).toBe(1);
  });

  test('steps go to multiples and carry no binary dust', () => {
    expect(steppedValue(5.9, 0.1, 1)).toBe(6);
    expect(steppedValue(0.1, 0.1, 2)).toBe(0.3);
    expect(steppedValue(5.93, 0.1, -1)).toBe(5.9);
    expect(steppedValue(0, 0.1, -1)).toBe(-0.1);
  });

  test('bounds are said with their unit', () => {
    expect(boundsFault(3, 0, 10, 'mm')).toBeNull();
    expect(boundsFault(-1, 0, 10, 'mm')?.required).toBe('from 0 mm to 10 mm');
    expect(boundsFault(-1, 0, null, 'mm')?.required).toBe('at least 0 mm');
    expect(boundsFault(11, null, 10, 'mm')?.received).toBe('11 mm');
  });
});
