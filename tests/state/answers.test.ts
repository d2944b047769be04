import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { Answers } from '../../src/state/answers.ts';
import { moveReceiver } from '../../src/state/commands/move-receiver.ts';
import { setGap } from '../../src/state/commands/set-gap.ts';
import { setValue } from '../../src/state/commands/set-value.ts';
import { DesignStore } from '../../src/state/store.ts';
import { createFakeEngine, type FakeEngine } from '../support/fake-engine.ts';

let store: DesignStore;
let engine: FakeEngine;
let answers: Answers;
let stop: () => void;

beforeEach(async () => {
  store = new DesignStore(DEMO_DESIGN);
  engine = createFakeEngine();
  answers = new Answers(store, engine);
  answers.want({ mapSpanMm: 32, sweeps: { gapToMm: 16, offsetToMm: 24 } });
  stop = answers.start();
  await idle();
});

afterEach(() => stop());

async function idle(): Promise<void> {
  await vi.waitFor(() => {
    expect(answers.pose.value).not.toBeNull();
    expect(answers.busy.value).toBe(false);
  });
}

const count = () => ({ ...engine.asked });

test('answers what the station wants, the map coarse first and then fine', () => {
  expect(count()).toMatchObject({ quick: 1, solve: 1, map: 2, sweep: 3 });
  expect(answers.map.value?.xMm).toHaveLength(129);
  expect(answers.mapFresh.value).toBe(true);
  expect(answers.poseFresh.value).toBe(true);
  expect(answers.quick.value).toBeNull();
  // Centred: the line through the middle would be the same.
  expect(answers.sweeps.value?.gapCentred).toBeNull();
});

test('a change of words computes nothing anew', async () => {
  const before = count();
  store.run(setValue, { path: 'title', value: 'Other words', what: 'title' });
  store.run(setValue, { path: 'notes', value: 'and notes', what: 'notes' });
  await idle();
  expect(count()).toEqual(before);
});

test('while dragging there are quick answers only; after it the full one, and the map is kept', async () => {
  const before = count();
  store.run(moveReceiver, { xMm: 0, yMm: 0 }, 'start');
  for (let i = 1; i <= 5; i += 1) {
    store.run(moveReceiver, { xMm: i, yMm: 0 }, 'move');
    await vi.waitFor(() => expect(answers.quick.value).not.toBeNull());
  }
  expect(count().quick).toBeGreaterThan(before.quick);
  expect(count().solve).toBe(before.solve);
  store.run(moveReceiver, { xMm: 5, yMm: 0 }, 'end');
  await idle();
  await vi.waitFor(() => expect(answers.poseFresh.value).toBe(true));
  expect(answers.quick.value).toBeNull();
  expect(count().map).toBe(before.map);
  expect(answers.mapFresh.value).toBe(true);
  expect(answers.sweeps.value?.gapCentred).not.toBeNull();
});

test('dragging the gap brings coarse maps on the way and the fine one at the end', async () => {
  store.run(setGap, { gapMm: 5.9 }, 'start');
  store.run(setGap, { gapMm: 8 }, 'move');
  await vi.waitFor(() => expect(answers.map.value?.gapMm).toBe(8));
  expect(answers.map.value?.xMm).toHaveLength(33);
  store.run(setGap, { gapMm: 9 }, 'end');
  await idle();
  await vi.waitFor(() => expect(answers.map.value?.xMm).toHaveLength(129));
  expect(answers.map.value?.gapMm).toBe(9);
});

test('a refused design keeps the last answers', async () => {
  const before = count();
  const pose = answers.pose.value;
  store.run(setValue, { path: 'receiver.coil.turns', value: -4, what: 'turns' });
  await idle();
  expect(count()).toEqual(before);
  expect(answers.pose.value).toBe(pose);
});

test('a failure of the engine becomes a sentence and goes with the next answer', async () => {
  const solve = engine.solve;
  engine.solve = async () => ({ ok: false, faults: [], message: 'The circuit did not settle.' });
  store.run(setGap, { gapMm: 7 });
  await vi.waitFor(() => expect(answers.failure.value).toBe('The circuit did not settle.'));
  engine.solve = solve;
  store.run(setGap, { gapMm: 6 });
  await vi.waitFor(() => expect(answers.failure.value).toBeNull());
});

test('what was stopped is said to be, and goes on when asked; a change begins anew', async () => {
  const slow = createFakeEngine({ delayMs: 30 });
  const own = new DesignStore(DEMO_DESIGN);
  const waiting = new Answers(own, slow);
  waiting.want({ mapSpanMm: 32, sweeps: { gapToMm: 16, offsetToMm: 24 } });
  const end = waiting.start();
  try {
    expect(waiting.stopped.value).toBe(false);
    waiting.stop();
    await vi.waitFor(() => expect(waiting.stopped.value).toBe(true));
    expect(waiting.map.value).toBeNull();
    waiting.goOn();
    expect(waiting.stopped.value).toBe(false);
    await vi.waitFor(() => {
      expect(waiting.busy.value).toBe(false);
      expect(waiting.map.value?.xMm).toHaveLength(129);
      expect(waiting.sweeps.value).not.toBeNull();
    });
    own.run(setGap, { gapMm: 9 });
    waiting.stop();
    await vi.waitFor(() => expect(waiting.stopped.value).toBe(true));
    own.run(setGap, { gapMm: 10 });
    expect(waiting.stopped.value).toBe(false);
    await vi.waitFor(() => expect(waiting.map.value?.gapMm).toBe(10));
    // Nothing was left to do: nothing was stopped.
    await vi.waitFor(() => expect(waiting.busy.value).toBe(false));
    waiting.stop();
    expect(waiting.stopped.value).toBe(false);
  } finally {
    end();
  }
});

test('stopping ends the work and says nothing', async () => {
  const slow = createFakeEngine({ delayMs: 400 });
  const waiting = new Answers(store, slow);
  waiting.want({ mapSpanMm: 32, sweeps: null });
  const end = waiting.start();
  expect(waiting.busy.value).toBe(true);
  waiting.stop();
  await vi.waitFor(() => expect(waiting.busy.value).toBe(false));
  expect(waiting.failure.value).toBeNull();
  expect(waiting.map.value).toBeNull();
  end();
});
