import { STOPPED } from './abort.ts';
import { failureSentence, isOutOfMemory } from './failure-sentence.ts';
import type { JobArguments, JobName } from './jobs.ts';
import type { Lane, Runner } from './runner.ts';
import type { Outcome } from './types.ts';

/** One worker as the pool sees it; the browser and Node differ only in how it is made. */
export interface PooledWorker {
  call(name: JobName, args: unknown): Promise<Outcome<unknown>>;
  /** Called once with a sentence when the worker dies by itself. */
  onDeath(listener: (reason: string) => void): void;
  terminate(): void;
}

interface Task {
  readonly name: JobName;
  readonly args: unknown;
  readonly lane: Lane;
  readonly signal: AbortSignal | undefined;
  readonly settle: (outcome: Outcome<unknown>) => void;
  readonly reject: (error: unknown) => void;
  attempts: number;
}

interface Seat {
  readonly lane: Lane;
  worker: PooledWorker | null;
  task: Task | null;
  watchdog: ReturnType<typeof setInterval> | undefined;
}

/** A chunk is meant to last 100 ms, the longest some seconds; one that has not answered after this long is taken for hung. */
const HUNG_AFTER_MS = 120_000;
/**
 * The wait is counted in so many ticks: a machine that slept, or a clock that jumped, costs one of them and does not condemn
 * a worker that slept too.
 */
const TICKS = 12;

export const DEFAULT_POOL_OPTIONS = Object.freeze({ backWorkers: 2, hungAfterMs: HUNG_AFTER_MS, eager: false });

/**
 * A pool with one seat for the hand and `backWorkers` for long work. Workers start with their first job; an `eager` pool
 * has the hand's at once, so that it loads while its maker does something else. A worker that cannot be started, dies, hangs or
 * has no memory left is replaced and its job tried once more; a second time is reported as an outcome, not thrown, so that one
 * bad job cannot end the pool.
 */
export function createPoolRunner(
  spawn: () => PooledWorker,
  options: { readonly backWorkers?: number; readonly hungAfterMs?: number; readonly eager?: boolean } = {},
): Runner {
  const { backWorkers, hungAfterMs, eager } = { ...DEFAULT_POOL_OPTIONS, ...options };
  const seats: Seat[] = [seat('front'), ...Array.from({ length: Math.max(1, backWorkers) }, () => seat('back'))];
  const queue: Task[] = [];
  let disposed = false;

  function seat(lane: Lane): Seat {
    return { lane, worker: null, task: null, watchdog: undefined };
  }

  function pump(): void {
    for (const place of seats) {
      if (place.task) continue;
      const index = queue.findIndex((task) => task.lane === place.lane);
      if (index < 0) continue;
      const [task] = queue.splice(index, 1);
      if (!task) continue;
      if (task.signal?.aborted) {
        task.reject(STOPPED);
        pump();
        return;
      }
      start(place, task);
    }
  }

  function employ(place: Seat): PooledWorker {
    if (place.worker) return place.worker;
    const worker = spawn();
    place.worker = worker;
    worker.onDeath((reason) => {
      if (place.worker === worker) lose(place, reason, memorySentence(new Error(reason)));
    });
    return worker;
  }

  function start(place: Seat, task: Task): void {
    place.task = task;
    task.attempts++;
    let worker: PooledWorker;
    try {
      worker = employ(place);
    } catch (error) {
      queueMicrotask(() => lose(place, messageOf(error)));
      return;
    }
    let ticks = TICKS;
    place.watchdog = setInterval(() => {
      ticks -= 1;
      if (ticks <= 0) lose(place, `no answer within ${hungAfterMs / 1000} s`);
    }, hungAfterMs / TICKS);
    worker.call(task.name, task.args).then(
      (outcome) => {
        if (place.worker !== worker || place.task !== task) return;
        free(place);
        task.settle(outcome);
        pump();
      },
      (error: unknown) => {
        if (place.worker !== worker || place.task !== task) return;
        if (isOutOfMemory(error)) {
          // What the idle ones hold is wanted more urgently here.
          for (const other of seats) if (!other.task) dismiss(other);
          lose(place, messageOf(error), memorySentence(error));
          return;
        }
        free(place);
        task.settle({ ok: false, faults: [], message: failureSentence(error) });
        pump();
      },
    );
  }

  function free(place: Seat): void {
    clearInterval(place.watchdog);
    place.task = null;
  }

  function dismiss(place: Seat): void {
    place.worker?.terminate();
    place.worker = null;
  }

  /** Replaces a worker. @param sentence what the reader is told the second time, where there is more to say */
  function lose(place: Seat, reason: string, sentence?: string): void {
    const task = place.task;
    free(place);
    dismiss(place);
    if (task) {
      if (task.attempts < 2) queue.unshift(task);
      else
        task.settle({
          ok: false,
          faults: [],
          message:
            sentence ??
            `The calculation stopped twice (${reason}) and was given up. Your design is untouched; change something or try again.`,
        });
    }
    if (!disposed) pump();
  }

  if (eager) {
    try {
      employ(seats[0]!);
    } catch {
      // The first job says so.
    }
  }

  return {
    width: seats.length - 1,
    run(name, args, { lane, signal }) {
      return new Promise((resolve, reject) => {
        if (disposed || signal?.aborted) {
          reject(STOPPED);
          return;
        }
        queue.push({
          name,
          args: args as JobArguments<JobName>,
          lane,
          signal,
          settle: resolve as (outcome: Outcome<unknown>) => void,
          reject,
          attempts: 0,
        });
        pump();
      });
    },
    dispose() {
      disposed = true;
      for (const task of queue.splice(0)) task.reject(STOPPED);
      for (const place of seats) {
        place.task?.reject(STOPPED);
        free(place);
        dismiss(place);
      }
    },
  };
}

function memorySentence(error: unknown): string | undefined {
  return isOutOfMemory(error) ? failureSentence(error) : undefined;
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
