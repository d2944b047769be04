import * as Comlink from 'comlink';
import { doJob } from './jobs.ts';
import { transferables } from './transferables.ts';
import type { WorkerApi } from './worker-api.ts';

/** The API object of a worker's entry: results move to the other thread, they are not copied. */
export const workerApi: WorkerApi = {
  async doJob(name, args) {
    const outcome = await doJob(name, args);
    return Comlink.transfer(outcome, transferables(outcome));
  },
};
