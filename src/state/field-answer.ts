import { computed, effect, type ReadonlySignal, signal } from '@preact/signals-core';
import type { Engine, Progress } from '../engine/types.ts';
import { LatestJob } from './latest-job.ts';
import { linkKeyOf } from './question-keys.ts';
import type { DesignStore } from './store.ts';

/** The field lines of the pair, worked out only while somebody wants to see them and nothing is dragged. */
export class FieldAnswer {
  readonly #store: DesignStore;
  readonly #engine: Engine;
  readonly #wanted = signal(false);
  readonly #progress = signal<Progress | null>(null);
  readonly #job = new LatestJob<readonly Float64Array[]>({ whenNewer: 'abort' });

  readonly wanted: ReadonlySignal<boolean> = this.#wanted;
  /** Strips in metres, of the design as it stands; null while there are none. */
  readonly lines: ReadonlySignal<readonly Float64Array[] | null>;
  readonly progress: ReadonlySignal<Progress | null>;
  readonly failure: ReadonlySignal<string | null> = this.#job.failure;

  constructor(store: DesignStore, engine: Engine) {
    this.#store = store;
    this.#engine = engine;
    const key = computed(() => linkKeyOf(store.design.value));
    this.lines = computed(() => {
      const answer = this.#job.answer.value;
      return this.#wanted.value && answer?.key === key.value ? answer.value : null;
    });
    this.progress = computed(() => (this.#job.running.value ? this.#progress.value : null));
  }

  want(wanted: boolean): void {
    this.#wanted.value = wanted;
    if (!wanted) this.#job.stop();
  }

  /** Begins to follow the store; returns the way to stop. */
  start(): () => void {
    const stop = effect(() => {
      const design = this.#store.design.value;
      if (!this.#wanted.value || this.#store.dragging.value) return;
      this.#job.ask(linkKeyOf(design), (abort) =>
        this.#engine.field(design, abort, (progress) => {
          this.#progress.value = progress;
        }),
      );
    });
    return () => {
      stop();
      this.#job.stop();
    };
  }
}
