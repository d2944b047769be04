import type { JobArguments, JobName } from './jobs.ts';
import type { Outcome } from './types.ts';

/** What a worker's entry exposes, in the browser and in Node. */
export interface WorkerApi {
  doJob(name: JobName, args: JobArguments<JobName>): Promise<Outcome<unknown>>;
}
