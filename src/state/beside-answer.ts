import { computed, effect, type ReadonlySignal, signal } from '@preact/signals-core';
import type { OffsetMap, PoseAnswer } from '../analysis/types.ts';
import type { Engine } from '../engine/types.ts';
import type { FaultDetail } from '../numerics/errors.ts';
import { ANSWER_OPTIONS, type Answers } from './answers.ts';
import { LatestJob } from './latest-job.ts';
import { mapKey, poseKey } from './question-keys.ts';
import { type ResolvedDesign, resolveDocument } from './resolved-design.ts';
import type { DesignStore } from './store.ts';

/**
 * What the design laid beside can do. Asked only while it is looked at and the engine has nothing to do for the design on
 * the table, which always comes first: the engine keeps one question of a kind.
 */
export class BesideAnswer {
  readonly #store: DesignStore;
  readonly #answers: Answers;
  readonly #engine: Engine;
  readonly #spanMm = signal<number | null>(null);
  readonly #pose = new LatestJob<PoseAnswer>({ whenNewer: 'abort' });
  readonly #map = new LatestJob<OffsetMap>({ whenNewer: 'abort' });

  /** What is wrong with the design beside; empty where it holds together, or where there is none. */
  readonly faults: ReadonlySignal<readonly FaultDetail[]>;
  /** The design beside, or null where there is none that holds together. */
  readonly resolved: ReadonlySignal<ResolvedDesign | null>;
  readonly pose: ReadonlySignal<PoseAnswer | null>;
  readonly map: ReadonlySignal<OffsetMap | null>;
  readonly failure: ReadonlySignal<string | null>;
  readonly running: ReadonlySignal<boolean>;

  constructor(store: DesignStore, answers: Answers, engine: Engine) {
    this.#store = store;
    this.#answers = answers;
    this.#engine = engine;
    const resolution = computed(() => (store.compare.value === null ? null : resolveDocument(store.compare.value)));
    this.resolved = computed(() => (resolution.value?.ok ? resolution.value.resolved : null));
    this.faults = computed(() => (resolution.value?.ok === false ? resolution.value.faults : []));
    this.pose = computed(() => {
      const answer = this.#pose.answer.value;
      const design = this.resolved.value?.design;
      return design && answer?.key === poseKey(design) ? answer.value : null;
    });
    this.map = computed(() => {
      const answer = this.#map.answer.value;
      const design = this.resolved.value?.design;
      const span = this.#spanMm.value;
      return design && span !== null && answer?.key === mapKey(design, span) ? answer.value : null;
    });
    this.failure = computed(() => this.#pose.failure.value ?? this.#map.failure.value);
    this.running = computed(() => this.#pose.running.value || this.#map.running.value);
  }

  /** Says that the design beside is looked at, with the half-width of its map in mm; null: no longer. */
  want(spanMm: number | null): void {
    this.#spanMm.value = spanMm;
    if (spanMm !== null) return;
    this.#pose.stop();
    this.#map.stop();
  }

  /** Begins to follow the store; returns the way to stop. */
  start(): () => void {
    const stop = effect(() => {
      const design = this.resolved.value?.design;
      const spanMm = this.#spanMm.value;
      const idle = !this.#answers.busy.value && !this.#store.dragging.value;
      if (!design || spanMm === null || !idle) return;
      this.#pose.ask(poseKey(design), (abort) => this.#engine.solve(design, abort));
      const key = mapKey(design, spanMm);
      const { coarsePoints, finePoints } = ANSWER_OPTIONS;
      this.#map.ask(key, async (abort) => {
        const coarse = await this.#engine.map({ design, points: coarsePoints, spanMm }, abort);
        if (!coarse.ok) return coarse;
        this.#map.offer(key, coarse.value, coarse.elapsedMs);
        return this.#engine.map({ design, points: finePoints, spanMm }, abort);
      });
    });
    return () => {
      stop();
      this.want(null);
    };
  }
}
