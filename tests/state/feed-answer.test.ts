import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { moveReceiver } from '../../src/state/commands/move-receiver.ts';
import { setValue } from '../../src/state/commands/set-value.ts';
import { FeedAnswer } from '../../src/state/feed-answer.ts';
import { DesignStore } from '../../src/state/store.ts';
import { createFakeEngine, type FakeEngine } from '../support/fake-engine.ts';

let store: DesignStore;
let engine: FakeEngine;
let feed: FeedAnswer;
let stop: () => void;

beforeEach(() => {
  store = new DesignStore(DEMO_DESIGN);
  engine = createFakeEngine();
  feed = new FeedAnswer(store, engine);
  stop = feed.start();
});

afterEach(() => stop());

const there = () => vi.waitFor(() => expect(feed.spread.value).not.toBeNull());

test('asks nothing until somebody looks', async () => {
  await new Promise((resolve) => setTimeout(resolve, 5));
  expect(engine.asked.spread).toBe(0);
  feed.want(true);
  await there();
  expect(engine.asked.spread).toBe(1);
  expect(feed.spread.value?.less.supplyW).toBeGreaterThan(0);
});

test('an answer of another design is none; a change behind the receiver leaves it', async () => {
  feed.want(true);
  await there();
  store.run(setValue, { path: 'demand.dock.hoursPerDay', value: 3, what: 'the hours' });
  expect(feed.spread.value).not.toBeNull();
  store.run(moveReceiver, { xMm: 4, yMm: 0 });
  expect(feed.spread.value).toBeNull();
  await there();
  expect(engine.asked.spread).toBe(2);
});

test('waits while something is dragged', async () => {
  feed.want(true);
  await there();
  store.run(moveReceiver, { xMm: 0, yMm: 0 }, 'start');
  store.run(moveReceiver, { xMm: 3, yMm: 0 }, 'move');
  await new Promise((resolve) => setTimeout(resolve, 5));
  expect(engine.asked.spread).toBe(1);
  store.run(moveReceiver, { xMm: 3, yMm: 0 }, 'end');
  await there();
  expect(engine.asked.spread).toBe(2);
});

test('what failed is asked again when somebody looks anew', async () => {
  stop();
  let broken = true;
  const { spread } = engine;
  const flaky = {
    ...engine,
    spread: (...args: Parameters<typeof spread>) => (broken ? Promise.reject(new Error('lost')) : spread(...args)),
  };
  feed = new FeedAnswer(store, flaky);
  stop = feed.start();
  feed.want(true);
  await new Promise((resolve) => setTimeout(resolve, 5));
  broken = false;
  feed.want(false);
  feed.want(true);
  await there();
});
