import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import * as Comlink from 'comlink';
import nodeEndpoint from 'comlink/dist/esm/node-adapter.mjs';
import { createEngine } from './coordinator.ts';
import type { JobArguments, JobName } from './jobs.ts';
import { createPoolRunner, type PooledWorker } from './pool-runner.ts';
import type { Engine } from './types.ts';
import type { WorkerApi } from './worker-api.ts';

/** The engine in Node threads, for long work of the command line. @param entry the built worker file */
export function createNodeEngine(entry: URL): Engine {
  const backWorkers = Math.min(4, Math.max(1, availableParallelism()));
  return createEngine(
    createPoolRunner(() => spawn(entry), { backWorkers }),
    () => performance.now(),
  );
}

function spawn(entry: URL): PooledWorker {
  const worker = new Worker(entry);
  const api = Comlink.wrap<WorkerApi>(nodeEndpoint(worker));
  return {
    call: (name, args) => api.doJob(name, args as JobArguments<JobName>),
    onDeath(listener) {
      worker.once('error', (error) => listener(error instanceof Error ? error.message : String(error)));
      worker.once('exit', () => listener('the thread ended'));
    },
    terminate() {
      void worker.terminate();
    },
  };
}
