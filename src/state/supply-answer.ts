import { computed, effect, type ReadonlySignal, signal } from '@preact/signals-core';
import type { SupplyChoice } from '../analysis/supply/supply-choice.ts';
import type { Design } from '../design/types.ts';
import type { Engine, Progress } from '../engine/types.ts';
import { LatestJob } from './latest-job.ts';
import { poseKey } from './question-keys.ts';
import type { DesignStore } from './store.ts';

/** Supplies that are easily had; the design's own joins them. */
const USUAL_V = Object.freeze([5, 9, 12]);

/** The choice between supply voltages, worked out while somebody looks at it and nothing is dragged. */
export class SupplyAnswer {
  readonly #store: DesignStore;
  readonly #engine: Engine;
  readonly #wanted = signal(false);
  readonly #given = signal<readonly number[] | null>(null);
  readonly #progress = signal<Progress | null>(null);
  readonly #job = new LatestJob<SupplyChoice>({ whenNewer: 'abort' });

  /** The voltages compared, lowest first: the reader's own, else the usual ones and the design's. */
  readonly suppliesV: ReadonlySignal<readonly number[]>;
  /** Of the design as it stands or, while it is worked out anew, of the one before. */
  readonly choice: ReadonlySignal<SupplyChoice | null>;
  readonly fresh: ReadonlySignal<boolean>;
  readonly progress: ReadonlySignal<Progress | null>;
  readonly failure: ReadonlySignal<string | null> = this.#job.failure;

  constructor(store: DesignStore, engine: Engine) {
    this.#store = store;
    this.#engine = engine;
    this.suppliesV = computed(
      () =>
        this.#given.value ??
        [...new Set([...USUAL_V, store.design.value.transmitter.drive.supplyV])].sort((a, b) => a - b),
    );
    const key = computed(() => keyOf(store.design.value, this.suppliesV.value));
    this.choice = computed(() => this.#job.answer.value?.value ?? null);
    this.fresh = computed(() => this.#job.answer.value?.key === key.value && !this.#job.running.value);
    this.progress = computed(() => (this.#job.running.value ? this.#progress.value : null));
  }

  /** The reader's own voltages, two to four. */
  compare(suppliesV: readonly number[]): void {
    this.#given.value = [...suppliesV].sort((a, b) => a - b);
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
      const suppliesV = this.suppliesV.value;
      if (!this.#wanted.value || this.#store.dragging.value) return;
      const key = keyOf(design, suppliesV);
      this.#job.ask(key, (abort) =>
        this.#engine.supplies(
          { design, suppliesV },
          abort,
          (progress) => {
            this.#progress.value = progress;
          },
          (first) => this.#job.offer(key, first, 0),
        ),
      );
    });
    return () => {
      stop();
      this.#job.stop();
    };
  }
}

/** What the choice depends on: not on the design's own supply voltage, since each of those compared takes its place. */
function keyOf(design: Design, suppliesV: readonly number[]): string {
  const { transmitter } = design;
  const drive = { ...transmitter.drive, supplyV: 0 };
  return `${suppliesV.join(' ')}|${poseKey({ ...design, transmitter: { ...transmitter, drive } })}`;
}
