import { computed, effect, type ReadonlySignal, signal } from '@preact/signals-core';
import type { FitReport } from '../analysis/prove/fit-report.ts';
import type { OffsetMap } from '../analysis/types.ts';
import type { Design } from '../design/types.ts';
import type { Engine, Progress } from '../engine/types.ts';
import { LatestJob } from './latest-job.ts';
import { poseKey } from './question-keys.ts';
import type { DesignStore } from './store.ts';

/** Residuals beyond so many standard deviations count linearly where the reader asks for it. */
const ROBUST_BEYOND = 2;
const MAP_POINTS = 65;

/** The fit of the bench readings, worked out while somebody looks at it and nothing is dragged; the map after it on request. */
export class FitAnswer {
  readonly #store: DesignStore;
  readonly #engine: Engine;
  readonly #wanted = signal(false);
  readonly #held = signal(false);
  readonly #robust = signal(false);
  readonly #progress = signal<Progress | null>(null);
  readonly #mapProgress = signal<Progress | null>(null);
  readonly #fit = new LatestJob<FitReport>({ whenNewer: 'abort' });
  readonly #map = new LatestJob<OffsetMap>({ whenNewer: 'abort' });

  /** Of the readings as they stand or, while they are worked out anew, of those before; null without readings. */
  readonly report: ReadonlySignal<FitReport | null>;
  readonly fresh: ReadonlySignal<boolean>;
  readonly progress: ReadonlySignal<Progress | null>;
  readonly failure: ReadonlySignal<string | null>;
  readonly running: ReadonlySignal<boolean> = this.#fit.running;
  /** Single numbers that are far off count less. */
  readonly robust: ReadonlySignal<boolean> = this.#robust;
  /** Stopped by hand: nothing runs until it is asked for again. */
  readonly held: ReadonlySignal<boolean> = this.#held;
  /** The map of the report shown; null until it was asked for. */
  readonly map: ReadonlySignal<OffsetMap | null>;
  readonly mapProgress: ReadonlySignal<Progress | null>;
  readonly mapFailure: ReadonlySignal<string | null> = this.#map.failure;

  constructor(store: DesignStore, engine: Engine) {
    this.#store = store;
    this.#engine = engine;
    const key = computed(() => keyOf(store.design.value, this.#robust.value));
    const some = computed(() => store.design.value.readings.length > 0);
    this.report = computed(() => (some.value ? (this.#fit.answer.value?.value ?? null) : null));
    this.fresh = computed(() => this.#fit.answer.value?.key === key.value);
    this.progress = computed(() => (this.#fit.running.value ? this.#progress.value : null));
    this.failure = computed(() => (some.value && !this.fresh.value ? this.#fit.failure.value : null));
    this.map = computed(() => {
      const map = this.#map.answer.value;
      return map !== null && map.key === this.#fit.answer.value?.key ? map.value : null;
    });
    this.mapProgress = computed(() => (this.#map.running.value ? this.#mapProgress.value : null));
  }

  want(wanted: boolean): void {
    this.#wanted.value = wanted;
    if (!wanted) {
      this.#fit.stop();
      this.#map.stop();
    }
  }

  setRobust(robust: boolean): void {
    this.#robust.value = robust;
  }

  /** Stops what runs, until `resume` or the next look. */
  stop(): void {
    this.#held.value = true;
    this.#fit.stop();
  }

  resume(): void {
    this.#held.value = false;
  }

  /** The whole map after the fit. */
  askMap(): void {
    const answer = this.#fit.answer.peek();
    if (answer === null) return;
    const design = this.#store.design.peek();
    const { ensemble } = answer.value;
    this.#mapProgress.value = { fraction: 0, stage: 'the map after the fit' };
    this.#map.ask(answer.key, (abort) =>
      this.#engine.fitMap({ design, ensemble, points: MAP_POINTS }, abort, (progress) => {
        this.#mapProgress.value = progress;
      }),
    );
  }

  stopMap(): void {
    this.#map.stop();
  }

  /** Begins to follow the store; returns the way to stop. */
  start(): () => void {
    const stop = effect(() => {
      const design = this.#store.design.value;
      const robust = this.#robust.value;
      if (!this.#wanted.value || this.#held.value || this.#store.dragging.value) return;
      if (design.readings.length === 0) {
        this.#fit.stop();
        return;
      }
      const options = robust ? { robustBeyond: ROBUST_BEYOND } : {};
      this.#fit.ask(keyOf(design, robust), (abort) =>
        this.#engine.fit({ design, options }, abort, (progress) => {
          this.#progress.value = progress;
        }),
      );
    });
    return () => {
      stop();
      this.#fit.stop();
      this.#map.stop();
    };
  }
}

function keyOf(design: Design, robust: boolean): string {
  return `${robust}|${JSON.stringify([design.readings, design.meters])}|${poseKey(design)}`;
}
