import { batch, type ReadonlySignal, signal } from '@preact/signals-core';
import { STOPPED } from '../engine/abort.ts';
import { failureSentence } from '../engine/failure-sentence.ts';
import type { Outcome } from '../engine/types.ts';

/** An answer together with the question it belongs to. */
export interface Answered<T> {
  readonly key: string;
  readonly value: T;
  readonly elapsedMs: number;
}

export type Question<T> = (signal: AbortSignal) => Promise<Outcome<T>>;

export interface LatestJobOptions {
  /**
   * What happens to a running question when a newer one comes. `abort`: it is stopped. `finish`: it may end and its
   * answer is shown, then only the newest of those waiting is asked; for drags, where every picture counts.
   */
  readonly whenNewer: 'abort' | 'finish';
}

function isAbort(error: unknown): boolean {
  return error instanceof Error && error.name === 'AbortError';
}

/** One kind of question to the engine, of which only the newest matters. Keeps the last good answer. */
export class LatestJob<T> {
  readonly #answer = signal<Answered<T> | null>(null);
  readonly #asked = signal<string | null>(null);
  readonly #running = signal(false);
  readonly #failure = signal<string | null>(null);
  readonly #whenNewer: LatestJobOptions['whenNewer'];
  #abort: AbortController | null = null;
  #waiting: { key: string; question: Question<T> } | null = null;
  /** What was run last. */
  #last: { key: string; question: Question<T> } | null = null;

  readonly answer: ReadonlySignal<Answered<T> | null> = this.#answer;
  readonly running: ReadonlySignal<boolean> = this.#running;
  /** A sentence for the reader; null while all is well. */
  readonly failure: ReadonlySignal<string | null> = this.#failure;
  /** Key of the newest question. */
  readonly asked: ReadonlySignal<string | null> = this.#asked;

  constructor(options: LatestJobOptions) {
    this.#whenNewer = options.whenNewer;
  }

  /** Asks once more what failed; nothing where nothing has. */
  tryAgain(): void {
    const last = this.#last;
    if (this.#failure.peek() === null || this.#abort || !last || this.#asked.peek() !== last.key) return;
    this.#failure.value = null;
    void this.#run(last.key, last.question);
  }

  /** Asks, unless this very question was the last one. */
  ask(key: string, question: Question<T>): void {
    if (key === this.#asked.peek()) return;
    this.#asked.value = key;
    if (this.#abort) {
      this.#waiting = { key, question };
      if (this.#whenNewer === 'abort') this.#abort.abort(STOPPED);
      return;
    }
    void this.#run(key, question);
  }

  async #run(key: string, question: Question<T>): Promise<void> {
    const abort = new AbortController();
    this.#abort = abort;
    this.#last = { key, question };
    this.#running.value = true;
    let outcome: Outcome<T> | null = null;
    let failure: string | null = null;
    try {
      outcome = await question(abort.signal);
    } catch (error) {
      if (!isAbort(error)) failure = failureSentence(error);
    }
    this.#abort = null;
    const next = this.#waiting;
    this.#waiting = null;
    batch(() => {
      if (outcome?.ok && !abort.signal.aborted) {
        this.#answer.value = { key, value: outcome.value, elapsedMs: outcome.elapsedMs };
        this.#failure.value = null;
      } else if (!abort.signal.aborted) {
        if (outcome && !outcome.ok) failure = outcome.message;
        if (failure !== null) this.#failure.value = failure;
      }
      // Stopped by somebody else (the engine drops older questions of a kind): it may be asked again.
      if (outcome === null && failure === null && !next && this.#asked.value === key) this.#asked.value = null;
      if (!next) this.#running.value = false;
    });
    if (next) void this.#run(next.key, next.question);
  }

  /** Puts an intermediate answer out while the question is still running: a coarse map before the fine one. */
  offer(key: string, value: T, elapsedMs: number): void {
    if (key === this.#asked.peek()) this.#answer.value = { key, value, elapsedMs };
  }

  /** Stops what is running; the question may be asked again. */
  stop(): void {
    this.#waiting = null;
    this.#asked.value = null;
    this.#abort?.abort(STOPPED);
  }
}
