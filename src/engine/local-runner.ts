import { STOPPED } from './abort.ts';
import { doJob } from './jobs.ts';
import type { Runner } from './runner.ts';

/** Runs every job in this thread, one at a time, giving way between jobs so that an abort can arrive. */
export function createLocalRunner(): Runner {
  let last: Promise<unknown> = Promise.resolve();
  return {
    width: 1,
    run(name, args, { signal }) {
      const turn = last.then(async () => {
        await new Promise((resolve) => setTimeout(resolve, 0));
        if (signal?.aborted) throw STOPPED;
        return doJob(name, args);
      });
      last = turn.catch(() => undefined);
      return turn;
    },
    dispose() {},
  };
}
