import { computed, effect, type ReadonlySignal, signal } from '@preact/signals-core';
import type { Sensitivity } from '../analysis/sensitivity/sensitivity.ts';
import type { Engine, Progress } from '../engine/types.ts';
import { LatestJob } from './latest-job.ts';
import { poseKey } from './question-keys.ts';
import type { DesignStore } from './store.ts';

/** What moves the margin most, worked out while somebody looks at it and nothing is dragged. */
export class SensitivityAnswer {
  readonly #store: DesignStore;
  readonly #engine: Engine;
  readonly #wanted = signal(false);
  readonly #progress = signal<Progress | null>(null);
  readonly #job = new LatestJob<Sensitivity>({ whenNewer: 'abort' });

  /** Of the design as it stands or, while it is worked out anew, of the one before. */
  readonly ranking: ReadonlySignal<Sensitivity | null>;
  readonly fresh: ReadonlySignal<boolean>;
  readonly progress: ReadonlySignal<Progress | null>;
  readonly failure: ReadonlySignal<string | null> = this.#job.failure;

  constructor(store: DesignStore, engine: Engine) {
    this.#store = store;
    this.#engine = engine;
    const key = computed(() => poseKey(store.design.value));
    this.ranking = computed(() => this.#job.answer.value?.value ?? null);
    this.fresh = computed(() => this.#job.answer.value?.key === key.value);
    this.progress = computed(() => (this.#job.running.value ? this.#progress.value : null));
  }

  want(wanted: boolean): void {
    this.#wanted.value = wanted;
    if (!wanted) this.stop();
  }

  /** Stops what runs; it is asked again when the design changes or somebody looks anew. */
  stop(): void {
    this.#job.stop();
  }

  /** Begins to follow the store; returns the way to stop. */
  start(): () => void {
    const stop = effect(() => {
      const design = this.#store.design.value;
      if (!this.#wanted.value || this.#store.dragging.value) return;
      this.#job.ask(poseKey(design), (abort) =>
        this.#engine.sensitivity(design, abort, (progress) => {
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
