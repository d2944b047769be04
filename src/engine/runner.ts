import type { JobArguments, JobName, JobResult } from './jobs.ts';
import type { Outcome } from './types.ts';

/**
 * Where a job runs. `front` is kept free for what the user's hand waits for (a drag, the current pose);
 * `back` takes the chunks of long work. A chunk lasts at most about 100 ms, so that stopping is a matter of not
 * sending the next one.
 */
export type Lane = 'front' | 'back';

export interface Runner {
  /** Rejects with an AbortError when the signal fires before the job started; a running job is left to end. */
  run<K extends JobName>(
    name: K,
    args: JobArguments<K>,
    options: { readonly lane: Lane; readonly signal?: AbortSignal | undefined },
  ): Promise<Outcome<JobResult<K>>>;
  /** Jobs of the back lane that run at the same time. */
  readonly width: number;
  dispose(): void;
}
