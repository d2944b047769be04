import * as Comlink from 'comlink';
import { doJob } from '../src/engine/jobs.ts';
import { transferables } from '../src/engine/transferables.ts';
import type { WorkerApi } from '../src/engine/worker-engine.ts';

const api: WorkerApi = {
  doJob(name, args) {
    const outcome = doJob(name, args);
    return Comlink.transfer(outcome, transferables(outcome));
  },
};

Comlink.expose(api);
