import { expect, test } from 'vitest';
import { bounded, EMPTY_HISTORY, type History, recorded, redone, undone } from '../../src/state/history.ts';

const step = (before: number, after: number) => ({ label: `${before} to ${after}`, before, after });

test('undo goes back step by step and redo forward again', () => {
  let history: History<number> = EMPTY_HISTORY;
  for (let i = 0; i < 5; i += 1) history = recorded(history, step(i, i + 1));
  expect(history.past?.count).toBe(5);
  const states: number[] = [];
  for (let back = undone(history); back; back = undone(history)) {
    states.push(back.state);
    history = back.history;
  }
  expect(states).toEqual([4, 3, 2, 1, 0]);
  for (let forth = redone(history); forth; forth = redone(history)) {
    states.push(forth.state);
    history = forth.history;
  }
  expect(states.slice(5)).toEqual([1, 2, 3, 4, 5]);
});

test('a new step after undo drops what had been undone', () => {
  let history: History<number> = recorded(recorded(EMPTY_HISTORY as History<number>, step(0, 1)), step(1, 2));
  history = undone(history)?.history as History<number>;
  history = recorded(history, step(1, 9));
  expect(redone(history)).toBeNull();
  expect(undone(history)?.state).toBe(1);
});

test('a step that changes nothing is not a step', () => {
  expect(recorded(EMPTY_HISTORY as History<number>, step(3, 3)).past).toBeNull();
});

test('a past that weighs too much loses its oldest steps, and only those', () => {
  let history: History<number> = EMPTY_HISTORY;
  const weigh = ({ after }: { readonly after: number }): number => (after % 10 === 0 ? 100 : 1);
  let most = 0;
  for (let i = 0; i < 1000; i += 1) {
    history = bounded(recorded(history, step(i, i + 1)), weigh, 1000);
    let weight = 0;
    for (let list = history.past; list; list = list.rest) weight += weigh(list.step);
    most = Math.max(most, weight);
  }
  expect(most).toBeLessThanOrEqual(1000);
  const count = history.past?.count ?? 0;
  // Half of what may be held has room for four groups of ten steps, of 109 each.
  expect(count).toBeGreaterThanOrEqual(40);
  // What is left goes back without a gap.
  let at = 1000;
  let steps = 0;
  for (let back = undone(history); back; back = undone(history)) {
    at -= 1;
    steps += 1;
    expect(back.state).toBe(at);
    history = back.history;
  }
  expect(steps).toBe(count);
});

test('a step heavier than all that may be held is still one that can be undone', () => {
  const history = bounded(recorded(EMPTY_HISTORY as History<number>, step(1, 2)), () => 1e9, 10);
  expect(undone(history)?.state).toBe(1);
});
