import { expect, test } from 'vitest';
import type { Outcome } from '../../src/engine/types.ts';
import { LatestJob } from '../../src/state/latest-job.ts';

/** A question that is answered by hand. */
function question<T>() {
  let settle: (outcome: Outcome<T>) => void = () => undefined;
  let reject: (error: unknown) => void = () => undefined;
  let seen: AbortSignal | null = null;
  const answer = new Promise<Outcome<T>>((yes, no) => {
    settle = yes;
    reject = no;
  });
  return {
    ask: (signal: AbortSignal) => {
      seen = signal;
      signal.addEventListener('abort', () => reject(new DOMException('stopped', 'AbortError')));
      return answer;
    },
    give: (value: T) => settle({ ok: true, value, elapsedMs: 1 }),
    refuse: (message: string) => settle({ ok: false, faults: [], message }),
    drop: () => reject(new DOMException('dropped', 'AbortError')),
    asked: () => seen !== null,
    aborted: () => seen?.aborted ?? false,
  };
}
const turn = () => new Promise((resolve) => setTimeout(resolve, 0));

test('a newer question aborts an older one', async () => {
  const job = new LatestJob<number>({ whenNewer: 'abort' });
  const [a, b] = [question<number>(), question<number>()];
  job.ask('a', a.ask);
  job.ask('b', b.ask);
  expect(a.aborted()).toBe(true);
  await turn();
  expect(b.asked()).toBe(true);
  b.give(2);
  await turn();
  expect(job.answer.value).toMatchObject({ key: 'b', value: 2 });
  expect(job.running.value).toBe(false);
  expect(job.failure.value).toBeNull();
});

test('while dragging the running question may finish, and only the newest of those waiting is asked', async () => {
  const job = new LatestJob<number>({ whenNewer: 'finish' });
  const [a, b, c] = [question<number>(), question<number>(), question<number>()];
  job.ask('a', a.ask);
  job.ask('b', b.ask);
  job.ask('c', c.ask);
  expect(a.aborted()).toBe(false);
  a.give(1);
  await turn();
  expect(job.answer.value?.value).toBe(1);
  expect(b.asked()).toBe(false);
  c.give(3);
  await turn();
  expect(job.answer.value?.value).toBe(3);
});

test('the same question is not asked twice', async () => {
  const job = new LatestJob<number>({ whenNewer: 'abort' });
  const [a, again] = [question<number>(), question<number>()];
  job.ask('a', a.ask);
  a.give(1);
  await turn();
  job.ask('a', again.ask);
  expect(again.asked()).toBe(false);
});

test('a failure is a sentence, keeps the last answer, and goes with the next one', async () => {
  const job = new LatestJob<number>({ whenNewer: 'abort' });
  const [a, b, c] = [question<number>(), question<number>(), question<number>()];
  job.ask('a', a.ask);
  a.give(1);
  await turn();
  job.ask('b', b.ask);
  b.refuse('It did not settle.');
  await turn();
  expect(job.failure.value).toBe('It did not settle.');
  expect(job.answer.value?.value).toBe(1);
  job.ask('c', c.ask);
  c.give(3);
  await turn();
  expect(job.failure.value).toBeNull();
});

test('what was stopped, here or by the engine, is no failure and may be asked again', async () => {
  const job = new LatestJob<number>({ whenNewer: 'abort' });
  const [a, b, c] = [question<number>(), question<number>(), question<number>()];
  job.ask('a', a.ask);
  job.stop();
  await turn();
  expect(job.failure.value).toBeNull();
  job.ask('a', b.ask);
  expect(b.asked()).toBe(true);
  b.drop();
  await turn();
  expect(job.failure.value).toBeNull();
  job.ask('a', c.ask);
  expect(c.asked()).toBe(true);
  c.give(4);
  await turn();
  expect(job.answer.value?.value).toBe(4);
});

test('an intermediate answer is shown while the full one is on its way', async () => {
  const job = new LatestJob<number>({ whenNewer: 'abort' });
  const a = question<number>();
  job.ask('a', a.ask);
  job.offer('a', 0.5, 1);
  expect(job.answer.value?.value).toBe(0.5);
  job.offer('other', 99, 1);
  expect(job.answer.value?.value).toBe(0.5);
  a.give(1);
  await turn();
  expect(job.answer.value?.value).toBe(1);
});

test('what failed is asked once more on demand, with the same question; what did not fail is left alone', async () => {
  const job = new LatestJob<number>({ whenNewer: 'abort' });
  let round = 0;
  const asked = async () => {
    round += 1;
    if (round === 1) throw new TypeError('Importing a module script failed.');
    return { ok: true, value: round, elapsedMs: 0 } as const;
  };
  job.tryAgain();
  job.ask('a', asked);
  await turn();
  expect(job.failure.value).toMatch(/could not be fetched/);
  // The same question by itself is not asked for ever.
  job.ask('a', asked);
  await turn();
  expect(round).toBe(1);
  job.tryAgain();
  expect(job.failure.value).toBeNull();
  await turn();
  expect(job.answer.value?.value).toBe(2);
  job.tryAgain();
  await turn();
  expect(round).toBe(2);
});
