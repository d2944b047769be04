import { computed, effect, type ReadonlySignal, signal } from '@preact/signals-core';
import type { ExposureReport } from '../analysis/exposure/exposure-report.ts';
import type { Engine } from '../engine/types.ts';
import type { Answers } from './answers.ts';
import { LatestJob } from './latest-job.ts';
import { poseKey } from './question-keys.ts';
import type { DesignStore } from './store.ts';

/** The field around the link, worked out from the full answer of the pose while somebody looks at it and nothing is dragged. */
export class ExposureAnswer {
  readonly #store: DesignStore;
  readonly #answers: Answers;
  readonly #engine: Engine;
  readonly #wanted = signal(false);
  readonly #job = new LatestJob<ExposureReport | null>({ whenNewer: 'abort' });

  /** Of the design as it stands; undefined while there is no answer, null where no current flows. */
  readonly report: ReadonlySignal<ExposureReport | null | undefined>;
  readonly failure: ReadonlySignal<string | null>;

  constructor(store: DesignStore, answers: Answers, engine: Engine) {
    this.#store = store;
    this.#answers = answers;
    this.#engine = engine;
    const key = computed(() => keyOf(this.#store));
    this.report = computed(() => {
      const answer = this.#job.answer.value;
      return answer?.key === key.value ? answer.value : undefined;
    });
    this.failure = this.#job.failure;
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
      const pose = this.#answers.pose.value;
      if (!this.#wanted.value || this.#store.dragging.value || !pose || !this.#answers.poseFresh.value) return;
      this.#job.ask(keyOf(this.#store), (abort) => this.#engine.exposure(design, pose.operatingPoint, abort));
    });
    return () => {
      stop();
      this.#job.stop();
    };
  }
}

function keyOf(store: DesignStore): string {
  const design = store.design.value;
  return `${design.demand.exposureDistanceMm}|${poseKey(design)}`;
}
