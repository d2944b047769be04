import { computed, effect, type ReadonlySignal, signal } from '@preact/signals-core';
import type { OperatingSpread } from '../analysis/feed/operating-spread.ts';
import type { Engine } from '../engine/types.ts';
import { LatestJob } from './latest-job.ts';
import { poseKey } from './question-keys.ts';
import type { DesignStore } from './store.ts';

/** How far the operating point may be off, worked out while Feed or the report is on show and nothing is dragged. */
export class FeedAnswer {
  readonly #store: DesignStore;
  readonly #engine: Engine;
  readonly #wanted = signal(false);
  readonly #job = new LatestJob<OperatingSpread>({ whenNewer: 'abort' });

  /** Of the design as it stands; null while there is none. */
  readonly spread: ReadonlySignal<OperatingSpread | null>;
  readonly running: ReadonlySignal<boolean> = this.#job.running;

  constructor(store: DesignStore, engine: Engine) {
    this.#store = store;
    this.#engine = engine;
    const key = computed(() => poseKey(store.design.value));
    this.spread = computed(() => {
      const answer = this.#job.answer.value;
      return answer?.key === key.value ? answer.value : null;
    });
  }

  want(wanted: boolean): void {
    this.#wanted.value = wanted;
    // What failed is asked again when somebody looks anew.
    if (!wanted && this.#job.failure.peek() !== null) this.#job.stop();
  }

  /** Begins to follow the store; returns the way to stop. */
  start(): () => void {
    const stop = effect(() => {
      const design = this.#store.design.value;
      if (!this.#wanted.value || this.#store.dragging.value) return;
      this.#job.ask(poseKey(design), (abort) => this.#engine.spread(design, abort));
    });
    return () => {
      stop();
      this.#job.stop();
    };
  }
}
