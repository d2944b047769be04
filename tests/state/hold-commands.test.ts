import { describe, expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { arrangeMagnets } from '../../src/state/commands/arrange-magnets.ts';
import { moveMagnet } from '../../src/state/commands/move-magnet.ts';
import { setHolding } from '../../src/state/commands/set-holding.ts';

const places = (document: typeof DEMO_DESIGN) => document.holding?.magnets?.positionsMm;

describe('magnets', () => {
  test('a moved pair takes its mirror images with it', () => {
    const two = moveMagnet.perform(DEMO_DESIGN, { index: 1, xMm: 28, yMm: 3 });
    expect(places(two)).toEqual([
      [-28, 3],
      [28, 3],
    ]);
    const four = arrangeMagnets.perform(two, { pairs: 4 });
    expect(places(moveMagnet.perform(four, { index: 2, xMm: 20, yMm: 15 }))).toEqual([
      [-20, -15],
      [20, -15],
      [20, 15],
      [-20, 15],
    ]);
    expect(moveMagnet.perform(DEMO_DESIGN, { index: 9, xMm: 0, yMm: 0 })).toBe(DEMO_DESIGN);
  });

  test('one that stands alone moves alone', () => {
    const three = arrangeMagnets.perform(DEMO_DESIGN, { pairs: 3 });
    const [, , top] = places(three) ?? [];
    expect(top?.[0]).toBe(0);
    const moved = places(moveMagnet.perform(three, { index: 2, xMm: 5, yMm: 20 }));
    expect(moved?.slice(0, 2)).toEqual(places(three)?.slice(0, 2));
    expect(moved?.[2]).toEqual([5, 20]);
  });

  test.each([1, 2, 3, 4])('%i pairs: never nearer than two diameters', (pairs) => {
    const at = places(arrangeMagnets.perform(DEMO_DESIGN, { pairs })) ?? [];
    expect(at).toHaveLength(pairs);
    at.forEach((a, i) => {
      for (const b of at.slice(0, i)) expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeGreaterThanOrEqual(16);
    });
  });

  test('the same number, or no magnets, changes nothing', () => {
    expect(arrangeMagnets.perform(DEMO_DESIGN, { pairs: 2 })).toBe(DEMO_DESIGN);
    const bare = setHolding.perform(DEMO_DESIGN, { magnets: null });
    expect(arrangeMagnets.perform(bare, { pairs: 4 })).toBe(bare);
  });
});

test('what is chosen replaces, what is not mentioned stays', () => {
  const bare = setHolding.perform(DEMO_DESIGN, { magnets: null });
  expect(bare.holding?.magnets).toBeNull();
  expect(bare.holding?.recess).toBe(DEMO_DESIGN.holding?.recess);
  expect(bare.holding?.deviceMassG).toBe(180);
});
