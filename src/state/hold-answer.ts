import { computed, effect, type ReadonlySignal, signal } from '@preact/signals-core';
import type { HoldReport } from '../analysis/hold/hold-report.ts';
import type { Design } from '../design/types.ts';
import type { Engine, Outcome, Progress } from '../engine/types.ts';
import { LatestJob } from './latest-job.ts';
import { poseKey } from './question-keys.ts';
import type { DesignStore } from './store.ts';

interface Held {
  readonly report: HoldReport;
  /** With direct solutions, ferrite and gaps; false: a first look. */
  readonly whole: boolean;
}

/** What the report on holding depends on. */
function holdKey(design: Design): string {
  return `${poseKey(design)}|${JSON.stringify(design.holding)}`;
}

/**
 * What keeps the device in place, while somebody looks at it: a first look at once and after every step of a drag, the whole
 * report when the hand rests.
 */
export class HoldAnswer {
  readonly #store: DesignStore;
  readonly #engine: Engine;
  readonly #wanted = signal(false);
  readonly #progress = signal<Progress | null>(null);
  readonly #whole = new LatestJob<Held>({ whenNewer: 'abort' });
  readonly #quick = new LatestJob<Held>({ whenNewer: 'finish' });

  /** Of the design shown, or the last one that could be had. */
  readonly report: ReadonlySignal<HoldReport | null>;
  /** The report is of the design as it stands. */
  readonly fresh: ReadonlySignal<boolean>;
  /** And it is the whole one. */
  readonly whole: ReadonlySignal<boolean>;
  readonly running: ReadonlySignal<boolean>;
  readonly progress: ReadonlySignal<Progress | null>;
  readonly failure: ReadonlySignal<string | null>;

  constructor(store: DesignStore, engine: Engine) {
    this.#store = store;
    this.#engine = engine;
    const key = computed(() => holdKey(store.design.value));
    const best = computed(() => {
      const whole = this.#whole.answer.value;
      const quick = this.#quick.answer.value;
      if (whole?.key === key.value) return whole;
      if (quick?.key === key.value) return quick;
      return (store.dragging.value ? (quick ?? whole) : (whole ?? quick)) ?? null;
    });
    this.report = computed(() => best.value?.value.report ?? null);
    this.fresh = computed(() => best.value?.key === key.value);
    this.whole = computed(() => this.fresh.value && best.value?.value.whole === true);
    this.running = computed(() => this.#whole.running.value);
    this.progress = computed(() => (this.#whole.running.value ? this.#progress.value : null));
    this.failure = computed(() => this.#whole.failure.value ?? this.#quick.failure.value);
  }

  want(wanted: boolean): void {
    this.#wanted.value = wanted;
    if (!wanted) this.stop();
  }

  /** Begins to follow the store; returns the way to stop. */
  start(): () => void {
    const stop = effect(() => {
      const design = this.#store.design.value;
      const dragging = this.#store.dragging.value;
      if (!this.#wanted.value) return;
      if (dragging) this.#askQuick(design);
      else this.#askWhole(design);
    });
    return () => {
      stop();
      this.stop();
    };
  }

  /** Stops long work; what was found stays. */
  stop(): void {
    this.#whole.stop();
    this.#quick.stop();
    this.#progress.value = null;
  }

  /** Takes up again what was stopped. */
  resume(): void {
    this.#askWhole(this.#store.design.peek());
  }

  #askQuick(design: Design): void {
    this.#quick.ask(holdKey(design), async (signal) => held(await this.#engine.holdFirst(design, signal), false));
  }

  #askWhole(design: Design): void {
    const key = holdKey(design);
    this.#whole.ask(key, async (signal) =>
      held(
        await this.#engine.hold(
          design,
          signal,
          (progress) => {
            this.#progress.value = progress;
          },
          (report) => this.#whole.offer(key, { report, whole: false }, 0),
        ),
        true,
      ),
    );
  }
}

function held(outcome: Outcome<HoldReport>, whole: boolean): Outcome<Held> {
  return outcome.ok ? { ...outcome, value: { report: outcome.value, whole } } : outcome;
}
