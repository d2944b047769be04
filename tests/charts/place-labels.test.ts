import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Box, type LabelRequest, overlaps, placeLabels } from '../../src/charts/place-labels.ts';

const bounds: Box = { x: 0, y: 0, width: 300, height: 200 };

test('the more important label takes the place, the other the next best', () => {
  const ask = (id: string): LabelRequest => ({ id, width: 60, height: 16, candidates: [100, 100, 200, 100] });
  const placed = placeLabels([ask('first'), ask('second')], [], bounds);
  expect(placed.get('first')?.x).toBe(70);
  expect(placed.get('second')?.x).toBe(170);
});

test('a label without room is left out', () => {
  const ask = (id: string): LabelRequest => ({ id, width: 60, height: 16, candidates: [100, 100] });
  expect(placeLabels([ask('first'), ask('second')], [], bounds).has('second')).toBe(false);
  expect(placeLabels([ask('first')], [{ x: 90, y: 90, width: 10, height: 10 }], bounds).size).toBe(0);
});

test('a label keeps its place while that is still on offer and free', () => {
  const ask: LabelRequest = { id: 'a', width: 60, height: 16, candidates: [100, 100, 200, 100] };
  const before = new Map([['a', { x: 170, y: 92, width: 60, height: 16 }]]);
  expect(placeLabels([ask], [], bounds, before).get('a')?.x).toBe(170);
  const gone = new Map([['a', { x: 10, y: 10, width: 60, height: 16 }]]);
  expect(placeLabels([ask], [], bounds, gone).get('a')?.x).toBe(70);
});

test('a label that must be written hides as little as it can; another is left out', () => {
  const line = (x: number): Box => ({ x, y: 98, width: 4, height: 4 });
  const ask = {
    id: 'a',
    width: 60,
    height: 16,
    candidates: [100, 100, 200, 100],
    lines: [line(80), line(95), line(200)],
  };
  expect(placeLabels([ask], [], bounds).size).toBe(0);
  expect(placeLabels([{ ...ask, needed: true }], [], bounds).get('a')?.x).toBe(170);
  // What may never be covered stays uncovered.
  const taken = [{ x: 190, y: 90, width: 10, height: 10 }];
  expect(placeLabels([{ ...ask, needed: true }], taken, bounds).get('a')?.x).toBe(70);
});

test('a label that must be written stays on its side of what it names while that moves, until much is gained', () => {
  const lines = (count: number, from: number): Box[] =>
    Array.from({ length: count }, (_, i) => ({ x: from + 6 * i, y: 98, width: 4, height: 4 }));
  const ask = (shift: number, hidden: number) => ({
    id: 'a',
    width: 60,
    height: 16,
    candidates: [200 + shift, 100, 100 + shift, 100],
    lines: lines(hidden, 75 + shift),
    needed: true,
  });
  const before = placeLabels([{ ...ask(0, 0), candidates: [400, 100, 100, 100] }], [], bounds);
  expect(before.get('a')).toMatchObject({ x: 70, candidate: 1 });
  expect(placeLabels([ask(20, 2)], [], bounds, before).get('a')?.x).toBe(90);
  expect(placeLabels([ask(20, 6)], [], bounds, before).get('a')?.x).toBe(190);
});

test('no two labels touch, none touches an obstacle or leaves the drawing (seed 11)', () => {
  const point = fc.integer({ min: -40, max: 340 });
  const request = fc.record({
    width: fc.integer({ min: 10, max: 120 }),
    height: fc.integer({ min: 10, max: 20 }),
    candidates: fc.array(point, { minLength: 2, maxLength: 20 }).map((list) => list.slice(0, list.length & ~1)),
  });
  const obstacle = fc.record({
    x: point,
    y: point,
    width: fc.integer({ min: 1, max: 60 }),
    height: fc.integer({ min: 1, max: 60 }),
  });
  fc.assert(
    fc.property(fc.array(request, { maxLength: 12 }), fc.array(obstacle, { maxLength: 6 }), (asked, obstacles) => {
      const requests = asked.map((entry, i) => ({ ...entry, id: `${i}` }));
      const boxes = [...placeLabels(requests, obstacles, bounds).values()];
      boxes.forEach((box, i) => {
        for (const other of [...boxes.slice(i + 1), ...obstacles]) expect(overlaps(box, other)).toBe(false);
        expect(box.x).toBeGreaterThanOrEqual(0);
        expect(box.y).toBeGreaterThanOrEqual(0);
        expect(box.x + box.width).toBeLessThanOrEqual(300);
        expect(box.y + box.height).toBeLessThanOrEqual(200);
      });
    }),
    { seed: 11, numRuns: 200 },
  );
});
