import { expect, it } from 'vitest';
import { inChunks } from '../../src/engine/in-chunks.ts';

it('sends every chunk once, in lanes of neighbours, and the last ones to whoever is free', async () => {
  const sent: { from: number; lane: number }[] = [];
  let running = 0;
  let most = 0;
  const done = await inChunks(95, 10, 2, async (from) => {
    most = Math.max(most, ++running);
    sent.push({ from, lane: from < 50 ? 0 : 1 });
    // The lower half is slow.
    await new Promise((resolve) => setTimeout(resolve, from < 50 ? 8 : 1));
    running--;
    return null;
  });
  expect(done).toBeNull();
  expect(most).toBe(2);
  expect(sent.map(({ from }) => from).toSorted((a, b) => a - b)).toEqual([0, 10, 20, 30, 40, 50, 60, 70, 80, 90]);
  const upper = sent.filter(({ lane }) => lane === 1).map(({ from }) => from);
  expect(upper).toEqual([50, 60, 70, 80, 90]);
  // What the upper lane took over came from the end of the lower one.
  const lower = sent.filter(({ lane }) => lane === 0).map(({ from }) => from);
  expect(lower.indexOf(40)).toBeLessThan(lower.indexOf(20));
});

it('stops at the first failure', async () => {
  const sent: number[] = [];
  const failed = await inChunks(100, 1, 3, async (from) => {
    sent.push(from);
    await Promise.resolve();
    return from === 1 ? { ok: false, faults: [], message: 'no' } : null;
  });
  expect(failed).toEqual({ ok: false, faults: [], message: 'no' });
  expect(sent.length).toBeLessThan(10);
});
