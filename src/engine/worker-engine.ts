import * as Comlink from 'comlink';
import { createEngine } from './coordinator.ts';
import type { JobArguments, JobName } from './jobs.ts';
import { createPoolRunner, type PooledWorker } from './pool-runner.ts';
import type { Engine } from './types.ts';
import type { WorkerApi } from './worker-api.ts';

/**
 * Workers for long work, beside the seat that is always kept for the hand. Page and hand sleep most of the time, so two
 * pay off on two cores too.
 */
function backWorkers(): number {
  return Math.min(3, Math.max(2, (navigator.hardwareConcurrency || 2) - 1));
}

/** The engine in web workers. */
export function createWorkerEngine(): Engine {
  return createEngine(createPoolRunner(spawn, { backWorkers: backWorkers(), eager: true }), () => performance.now());
}

function spawn(): PooledWorker {
  const worker = new Worker(new URL('../../workers/engine.worker.ts', import.meta.url), { type: 'module' });
  const api = Comlink.wrap<WorkerApi>(worker);
  return {
    call: (name, args) => api.doJob(name, args as JobArguments<JobName>),
    onDeath(listener) {
      // A script that cannot be fetched comes as an event without a message.
      worker.addEventListener(
        'error',
        (event) => listener(event.message || 'a part of the program could not be fetched; look at the connection'),
        { once: true },
      );
      worker.addEventListener('messageerror', () => listener('a message could not be read'), { once: true });
    },
    terminate() {
      api[Comlink.releaseProxy]();
      worker.terminate();
    },
  };
}
