import { expect, test } from 'vitest';
import { passRanges } from '../../../src/physics/coil/pass-ranges.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import { roundedLoop, TRANSMITTER, trace } from './coils.ts';

test('a spiral: pieces less than half a turn apart along the wire belong to one pass', () => {
  const spiral = windCoil({
    ...TRANSMITTER,
    outline: { shape: 'circle', outerDiameter: 40e-3, innerDiameter: 10e-3 },
    turns: 5,
    winding: 'spiral',
    conductor: trace(1e-3),
  }).turns[0];
  const passes = passRanges(spiral, false);
  // Twelve arcs a turn.
  expect(passes.same(20, 25)).toBe(true);
  expect(passes.same(20, 26)).toBe(false);
  expect(passes.same(20, 32)).toBe(false);
  expect(passes.around(20)).toEqual([15, 26]);
  // The return lead ends where the first arc begins.
  expect(passes.same(0, spiral.pieces.length - 1)).toBe(true);
});

test('a ring: opposite sides are apart, neighbours are not, whichever way round', () => {
  const passes = passRanges(roundedLoop(44e-3, 30e-3, 6e-3).turns[0], true);
  expect(passes.same(0, 1)).toBe(true);
  expect(passes.same(0, 7)).toBe(true);
  expect(passes.same(0, 4)).toBe(false);
  expect(passes.same(1, 6)).toBe(true);
});
