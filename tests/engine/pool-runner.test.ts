import { describe, expect, it, vi } from 'vitest';
import { createPoolRunner, type PooledWorker } from '../../src/engine/pool-runner.ts';
import type { Outcome } from '../../src/engine/types.ts';

/** A worker whose answers the test gives out by hand. */
class HandWorker implements PooledWorker {
  readonly calls: { answer: (outcome: Outcome<unknown>) => void; fail: (error: Error) => void }[] = [];
  #death: ((reason: string) => void) | null = null;
  terminated = false;
  call(): Promise<Outcome<unknown>> {
    return new Promise((answer, fail) => {
      this.calls.push({ answer, fail });
    });
  }
  onDeath(listener: (reason: string) => void): void {
    this.#death = listener;
  }
  die(): void {
    this.#death?.('killed');
  }
  terminate(): void {
    this.terminated = true;
  }
}

const done: Outcome<unknown> = { ok: true, value: 1, elapsedMs: 0 };
const args = { design: {} } as never;

function pool(backWorkers: number, hungAfterMs = 60_000) {
  const workers: HandWorker[] = [];
  const runner = createPoolRunner(
    () => {
      const worker = new HandWorker();
      workers.push(worker);
      return worker;
    },
    { backWorkers, hungAfterMs },
  );
  return { runner, workers };
}

describe('pool runner', () => {
  it('has the worker of the hand at once where it is eager, and no other', () => {
    const workers: HandWorker[] = [];
    const spawn = (): HandWorker => {
      const worker = new HandWorker();
      workers.push(worker);
      return worker;
    };
    createPoolRunner(spawn, { backWorkers: 2 });
    expect(workers).toHaveLength(0);
    const runner = createPoolRunner(spawn, { backWorkers: 2, eager: true });
    expect(workers).toHaveLength(1);
    void runner.run('quick', args, { lane: 'front' });
    expect(workers).toHaveLength(1);
    expect(workers[0]!.calls).toHaveLength(1);
  });

  it('keeps the front seat free of long work', async () => {
    const { runner, workers } = pool(1);
    const back = [1, 2].map(() => runner.run('plan', args, { lane: 'back' }));
    const front = runner.run('quick', args, { lane: 'front' });
    expect(workers).toHaveLength(2);
    workers[1]?.calls[0]?.answer(done);
    expect((await front).ok).toBe(true);
    workers[0]?.calls[0]?.answer(done);
    await back[0];
    expect(workers[0]?.calls).toHaveLength(2);
    runner.dispose();
    await expect(back[1]).rejects.toThrow('stopped');
  });

  it('drops a queued job whose signal fired, and keeps serving the others', async () => {
    const { runner, workers } = pool(1);
    const first = runner.run('plan', args, { lane: 'back' });
    const stop = new AbortController();
    const second = runner.run('plan', args, { lane: 'back', signal: stop.signal });
    const third = runner.run('plan', args, { lane: 'back' });
    stop.abort();
    workers[0]?.calls[0]?.answer(done);
    await first;
    await expect(second).rejects.toThrow('stopped');
    workers[0]?.calls[1]?.answer(done);
    expect((await third).ok).toBe(true);
    runner.dispose();
  });

  it('replaces a worker that dies and tries its job once more', async () => {
    const { runner, workers } = pool(1);
    const job = runner.run('plan', args, { lane: 'back' });
    workers[0]?.die();
    expect(workers[0]?.terminated).toBe(true);
    expect(workers).toHaveLength(2);
    workers[1]?.calls[0]?.answer(done);
    expect((await job).ok).toBe(true);
    runner.dispose();
  });

  it('gives a job up after the second death, with one plain sentence', async () => {
    const { runner, workers } = pool(1);
    const job = runner.run('plan', args, { lane: 'back' });
    workers[0]?.die();
    workers[1]?.die();
    const outcome = await job;
    expect(outcome.ok).toBe(false);
    if (!outcome.ok) expect(outcome.message).toMatch(/design is untouched/);
    const next = runner.run('plan', args, { lane: 'back' });
    workers[2]?.calls[0]?.answer(done);
    expect((await next).ok).toBe(true);
    runner.dispose();
  });

  it('takes a worker that never answers for hung', async () => {
    const { runner, workers } = pool(1, 20);
    const job = runner.run('plan', args, { lane: 'back' });
    const outcome = await job;
    expect(outcome.ok).toBe(false);
    expect(workers.filter((worker) => worker.terminated)).toHaveLength(2);
    runner.dispose();
  });

  it('turns a thrown error into an outcome', async () => {
    const { runner, workers } = pool(1);
    const job = runner.run('plan', args, { lane: 'back' });
    workers[0]?.calls[0]?.fail(new Error('a bug'));
    const outcome = await job;
    expect(outcome).toMatchObject({ ok: false });
    if (!outcome.ok) expect(outcome.message).toMatch(/^A fault of the program .*a bug.* Your design is untouched;/);
    runner.dispose();
  });

  /** As it comes through a worker border: a plain error with the name of what it was. */
  const memory = (): Error => Object.assign(new Error('Array buffer allocation failed'), { name: 'RangeError' });

  it('repeats in a fresh worker what ran out of memory, and lets go of what the idle ones hold', async () => {
    const { runner, workers } = pool(2);
    const first = runner.run('plan', args, { lane: 'back' });
    const second = runner.run('plan', args, { lane: 'back' });
    workers[1]?.calls[0]?.answer(done);
    await second;
    workers[0]?.calls[0]?.fail(memory());
    await Promise.resolve();
    await Promise.resolve();
    expect(workers.slice(0, 2).map((worker) => worker.terminated)).toEqual([true, true]);
    expect(workers).toHaveLength(3);
    workers[2]?.calls[0]?.answer(done);
    expect((await first).ok).toBe(true);
    runner.dispose();
  });

  it('says so in plain words where memory does not suffice in a fresh worker either', async () => {
    const { runner, workers } = pool(1);
    const job = runner.run('plan', args, { lane: 'back' });
    workers[0]?.calls[0]?.fail(memory());
    await Promise.resolve();
    await Promise.resolve();
    workers[1]?.calls[0]?.fail(memory());
    const outcome = await job;
    expect(outcome).toMatchObject({ ok: false, message: expect.stringMatching(/^There was not enough memory/) });
    const next = runner.run('plan', args, { lane: 'back' });
    workers[2]?.calls[0]?.answer(done);
    expect((await next).ok).toBe(true);
    runner.dispose();
  });

  it('survives that no worker can be started, and starts one when that is possible again', async () => {
    let allowed = false;
    const workers: HandWorker[] = [];
    const runner = createPoolRunner(
      () => {
        if (!allowed) throw new Error('workers are forbidden here');
        const worker = new HandWorker();
        workers.push(worker);
        return worker;
      },
      { backWorkers: 1, eager: true },
    );
    const refused = await runner.run('quick', args, { lane: 'front' });
    expect(refused).toMatchObject({ ok: false, message: expect.stringContaining('workers are forbidden here') });
    allowed = true;
    const next = runner.run('quick', args, { lane: 'front' });
    workers[0]?.calls[0]?.answer(done);
    expect((await next).ok).toBe(true);
    runner.dispose();
  });

  it('does not take a machine that slept for a worker that hangs', async () => {
    vi.useFakeTimers();
    try {
      const { runner, workers } = pool(1, 120_000);
      const job = runner.run('plan', args, { lane: 'back' });
      // Asleep for a day: the timer fires once, late.
      vi.setSystemTime(Date.now() + 86_400_000);
      await vi.advanceTimersByTimeAsync(10_000);
      expect(workers).toHaveLength(1);
      workers[0]?.calls[0]?.answer(done);
      expect((await job).ok).toBe(true);
      const hung = runner.run('plan', args, { lane: 'back' });
      await vi.advanceTimersByTimeAsync(119_000);
      expect(workers).toHaveLength(1);
      await vi.advanceTimersByTimeAsync(1000);
      expect(workers).toHaveLength(2);
      workers[1]?.calls[0]?.answer(done);
      expect((await hung).ok).toBe(true);
      runner.dispose();
    } finally {
      vi.useRealTimers();
    }
  });
});
