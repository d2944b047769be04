import { Worker } from 'node:worker_threads';
import { expect, it } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { createNodeEngine } from '../../src/engine/node-engine.ts';
import { createPoolRunner, type PooledWorker } from '../../src/engine/pool-runner.ts';

function demo() {
  const parsed = parseDesign(DEMO_DESIGN);
  if (!parsed.ok) throw new Error('the demo does not resolve');
  return parsed.design;
}

it('a thread that ends without a word is replaced, and given up the second time', async () => {
  const engine = createNodeEngine(new URL('./fixtures/leaving-worker.mjs', import.meta.url));
  try {
    const outcome = await engine.solve(demo());
    expect(outcome).toMatchObject({ ok: false, message: expect.stringMatching(/stopped twice \(the thread ended\)/) });
  } finally {
    engine.dispose();
  }
});

it('a thread that really runs out of memory is told as that, and ends nothing else', async () => {
  let started = 0;
  const spawn = (): PooledWorker => {
    started += 1;
    const worker = new Worker(new URL('./fixtures/hungry-worker.mjs', import.meta.url), {
      resourceLimits: { maxOldGenerationSizeMb: 8, maxYoungGenerationSizeMb: 1 },
      stderr: true,
    });
    return {
      call: () => {
        worker.postMessage('begin');
        return new Promise(() => undefined);
      },
      onDeath: (listener) => void worker.once('error', (error) => listener((error as Error).message)),
      terminate: () => void worker.terminate(),
    };
  };
  const runner = createPoolRunner(spawn, { backWorkers: 1 });
  const outcome = await runner.run('plan', { design: demo() }, { lane: 'back' });
  expect(outcome).toMatchObject({ ok: false, message: expect.stringMatching(/^There was not enough memory/) });
  expect(started).toBe(2);
  runner.dispose();
});
