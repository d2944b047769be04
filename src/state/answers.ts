import { computed, effect, type ReadonlySignal, signal, untracked } from '@preact/signals-core';
import type { LineSweep, OffsetMap, PoseAnswer } from '../analysis/types.ts';
import type { Design } from '../design/types.ts';
import type { Engine, Outcome, Progress, QuickAnswer } from '../engine/types.ts';
import { LatestJob } from './latest-job.ts';
import { mapKey, poseKey } from './question-keys.ts';
import type { DesignStore } from './store.ts';

/** What the station on show needs beside the pose itself. */
export interface Wants {
  /** Half-width of the offset map in mm; null: no map. */
  readonly mapSpanMm: number | null;
  /** Margin along gap and offset. */
  readonly sweeps: { readonly gapToMm: number; readonly offsetToMm: number } | null;
}

/** The four lines of the Place station. */
export interface Sweeps {
  readonly gapHere: LineSweep;
  /** Absent where the receiver is centred: it would be the same line. */
  readonly gapCentred: LineSweep | null;
  readonly alongX: LineSweep;
  readonly alongY: LineSweep;
}

export interface AnswerOptions {
  /** Points a side: a first look, and the full map. */
  readonly coarsePoints: number;
  readonly finePoints: number;
  readonly sweepPoints: number;
  /** Least gap of the sweep, mm. */
  readonly gapFromMm: number;
}

export const ANSWER_OPTIONS: AnswerOptions = Object.freeze({
  coarsePoints: 33,
  finePoints: 129,
  sweepPoints: 41,
  gapFromMm: 1,
});

/**
 * Keeps the engine's answers in step with the design: quick ones while something is dragged, full ones after, the map
 * coarse first. Older questions of the same kind are dropped.
 */
export class Answers {
  readonly #store: DesignStore;
  readonly #engine: Engine;
  readonly #options: AnswerOptions;
  readonly #wants = signal<Wants>({ mapSpanMm: null, sweeps: null });
  readonly #progress = signal<Progress | null>(null);
  readonly #quick = new LatestJob<QuickAnswer>({ whenNewer: 'finish' });
  readonly #pose = new LatestJob<PoseAnswer>({ whenNewer: 'abort' });
  readonly #map = new LatestJob<OffsetMap>({ whenNewer: 'abort' });
  readonly #quickMap = new LatestJob<OffsetMap>({ whenNewer: 'finish' });
  readonly #sweeps = new LatestJob<Sweeps>({ whenNewer: 'abort' });
  /** What was asked when work was stopped. */
  readonly #stoppedAt = signal<string | null>(null);
  #stopEffect: (() => void) | null = null;

  /** Of the pose shown, or the last one that could be had. */
  readonly pose: ReadonlySignal<PoseAnswer | null>;
  readonly poseFresh: ReadonlySignal<boolean>;
  /** While dragging: k and margin of the pose in the hand; null otherwise. */
  readonly quick: ReadonlySignal<QuickAnswer | null>;
  /** Whether such an answer is on its way. */
  readonly quickRunning: ReadonlySignal<boolean>;
  readonly map: ReadonlySignal<OffsetMap | null>;
  readonly mapFresh: ReadonlySignal<boolean>;
  readonly sweeps: ReadonlySignal<Sweeps | null>;
  /** Of long work; null when none runs. */
  readonly progress: ReadonlySignal<Progress | null>;
  readonly busy: ReadonlySignal<boolean>;
  readonly failure: ReadonlySignal<string | null>;
  /** Work was stopped before its end, and nothing has begun it again. */
  readonly stopped: ReadonlySignal<boolean>;

  constructor(store: DesignStore, engine: Engine, options: AnswerOptions = ANSWER_OPTIONS) {
    this.#store = store;
    this.#engine = engine;
    this.#options = options;
    const key = computed(() => poseKey(store.design.value));
    this.pose = computed(() => this.#pose.answer.value?.value ?? null);
    this.poseFresh = computed(() => this.#pose.answer.value?.key === key.value);
    this.quick = computed(() => {
      const answer = this.#quick.answer.value;
      if (!answer || this.poseFresh.value) return null;
      return answer.value;
    });
    this.quickRunning = this.#quick.running;
    const freshMap = computed(() => {
      const span = this.#wants.value.mapSpanMm;
      return span === null ? '' : mapKey(store.design.value, span);
    });
    this.map = computed(() => {
      const full = this.#map.answer.value;
      const quick = this.#quickMap.answer.value;
      if (full?.key === freshMap.value) return full.value;
      if (quick?.key === freshMap.value) return quick.value;
      return (store.dragging.value ? (quick ?? full) : (full ?? quick))?.value ?? null;
    });
    this.mapFresh = computed(
      () => this.#map.answer.value?.key === freshMap.value || this.#quickMap.answer.value?.key === freshMap.value,
    );
    this.sweeps = computed(() => this.#sweeps.answer.value?.value ?? null);
    this.progress = computed(() => (this.busy.value ? this.#progress.value : null));
    this.busy = computed(() => this.#pose.running.value || this.#map.running.value || this.#sweeps.running.value);
    this.stopped = computed(() => !this.busy.value && this.#stoppedAt.value === this.#question());
    this.failure = computed(
      () => this.#pose.failure.value ?? this.#map.failure.value ?? this.#sweeps.failure.value ?? null,
    );
  }

  /** Says what the station on show needs. */
  want(wants: Wants): void {
    const now = this.#wants.peek();
    if (JSON.stringify(now) !== JSON.stringify(wants)) this.#wants.value = wants;
  }

  /** Begins to follow the store; returns the way to stop. */
  start(): () => void {
    this.#stopEffect?.();
    // On a first visit with plates, whose setting up takes seconds, the cores belong to the first number.
    const spoken = computed(
      () =>
        this.#quick.answer.value !== null ||
        this.#pose.answer.value !== null ||
        this.#quick.failure.value !== null ||
        this.#pose.failure.value !== null,
    );
    this.#stoppedAt.value = null;
    this.#stopEffect = effect(() => this.#follow(this.#store.design.value, this.#store.dragging.value, spoken.value));
    return () => {
      this.#stopEffect?.();
      this.#stopEffect = null;
      this.stop();
    };
  }

  #question(): string {
    return `${JSON.stringify(this.#wants.value)}|${poseKey(this.#store.design.value)}`;
  }

  /** Stops long work; the next change of the design starts it again, or `goOn`. */
  stop(): void {
    if (this.busy.peek()) this.#stoppedAt.value = untracked(() => this.#question());
    for (const job of [this.#pose, this.#map, this.#quickMap, this.#sweeps]) job.stop();
    this.#progress.value = null;
  }

  /** Takes stopped work up again. */
  goOn(): void {
    this.#stoppedAt.value = null;
  }

  /** Asks once more what failed. */
  tryAgain(): void {
    for (const job of [this.#quick, this.#pose, this.#map, this.#quickMap, this.#sweeps]) job.tryAgain();
  }

  #follow(design: Design, dragging: boolean, spoken: boolean): void {
    const wants = this.#wants.value;
    const key = poseKey(design);
    if (dragging) {
      this.#quick.ask(key, (signal) => this.#engine.quick(design, signal));
      this.#askQuickMap(design, wants);
      return;
    }
    // The coarse answer shows while the full one is worked out.
    if (this.#quick.answer.peek()?.key !== key) this.#quick.ask(key, (signal) => this.#engine.quick(design, signal));
    if (this.#stoppedAt.value === this.#question()) return;
    this.#pose.ask(key, (signal) => this.#engine.solve(design, signal, (first) => this.#pose.offer(key, first, 0)));
    if (!spoken && hasPlates(design)) return;
    this.#askMap(design, wants);
    // The map is what one waits for; the lines come after its first look.
    if (wants.mapSpanMm === null || this.mapFresh.value || this.#map.failure.value !== null) {
      this.#askSweeps(design, wants);
    }
  }

  #askQuickMap(design: Design, wants: Wants): void {
    if (wants.mapSpanMm === null) return;
    const spanMm = wants.mapSpanMm;
    const key = mapKey(design, spanMm);
    if (key === this.#map.answer.peek()?.key || key === this.#map.asked.peek()) return;
    this.#quickMap.ask(key, (signal) =>
      this.#engine.map({ design, points: this.#options.coarsePoints, spanMm, level: 'rough' }, signal),
    );
  }

  #askMap(design: Design, wants: Wants): void {
    if (wants.mapSpanMm === null) return;
    const spanMm = wants.mapSpanMm;
    const { coarsePoints, finePoints } = this.#options;
    const key = mapKey(design, spanMm);
    this.#map.ask(key, async (signal) => {
      const progress = (p: Progress): void => {
        this.#progress.value = p;
      };
      // With plates the full model takes its time; in air there is nothing to wait for.
      if (hasPlates(design)) {
        for (const level of ['rough', 'coarse'] as const) {
          const look = await this.#engine.map({ design, points: coarsePoints, spanMm, level }, signal, progress);
          if (!look.ok) return look;
          this.#map.offer(key, look.value, look.elapsedMs);
          if (!look.value.firstLook) break;
        }
      }
      return this.#engine.map({ design, points: finePoints, spanMm }, signal, progress);
    });
  }

  #askSweeps(design: Design, wants: Wants): void {
    const range = wants.sweeps;
    if (range === null) return;
    const { sweepPoints: points, gapFromMm } = this.#options;
    const key = `${JSON.stringify(range)}|${poseKey(design)}`;
    const lines = async (level: 'rough' | 'coarse', signal: AbortSignal): Promise<Outcome<Sweeps>> => {
      const began = performance.now();
      const { placement } = design;
      const centred = placement.offsetXMm === 0 && placement.offsetYMm === 0;
      const middle: Design = { ...design, placement: { ...placement, offsetXMm: 0, offsetYMm: 0 } };
      const gap = { axis: 'gap', from: gapFromMm, to: range.gapToMm, points, level } as const;
      const across = { from: -range.offsetToMm, to: range.offsetToMm, points, level } as const;
      // One after the other: a newer request of the same kind would replace an older one.
      const gapHere = await this.#engine.sweep({ design, ...gap }, signal);
      if (!gapHere.ok) return gapHere;
      const alongX = await this.#engine.sweep({ design, axis: 'offsetX', ...across }, signal);
      if (!alongX.ok) return alongX;
      const alongY = await this.#engine.sweep({ design, axis: 'offsetY', ...across }, signal);
      if (!alongY.ok) return alongY;
      const gapCentred = centred ? null : await this.#engine.sweep({ design: middle, ...gap }, signal);
      if (gapCentred && !gapCentred.ok) return gapCentred;
      const value: Sweeps = {
        gapHere: gapHere.value,
        gapCentred: gapCentred?.value ?? null,
        alongX: alongX.value,
        alongY: alongY.value,
      };
      return { ok: true, value, elapsedMs: performance.now() - began };
    };
    this.#sweeps.ask(key, async (signal): Promise<Outcome<Sweeps>> => {
      // By first harmonic at once, which near collapse is far off and says it is a first look; the exact circuit follows.
      const first = await lines('rough', signal);
      const whole =
        first.ok && [first.value.gapHere, first.value.alongX, first.value.alongY].every((l) => !l.firstLook);
      if (!first.ok || whole) return first;
      this.#sweeps.offer(key, first.value, first.elapsedMs);
      return lines('coarse', signal);
    });
  }
}

function hasPlates({ transmitter, receiver }: Design): boolean {
  return [transmitter, receiver].some(({ ferrite, metal }) => ferrite !== null || metal !== null);
}
