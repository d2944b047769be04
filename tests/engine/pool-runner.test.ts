import { describe, expect, it } from 'vitest';
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
    expect(outcome).toMatchObject({ ok: false, message: 'a bug' });
    runner.dispose();
  });
});
