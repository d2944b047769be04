import type { LinkModel } from '../analysis/link/link-model.ts';
import { byGap, LINK_PASSES } from '../analysis/link/link-passes.ts';
import type { ModelPlan } from '../analysis/link/model-plan.ts';
import { Lru } from '../analysis/lru.ts';
import type { Design } from '../design/types.ts';
import { type Failed, inChunks } from './in-chunks.ts';
import { abortError, type Runner } from './runner.ts';
import type { Outcome, Progress } from './types.ts';

/** Poses per chunk: a coarse solve takes some milliseconds, a fine one some tens. */
const CHUNK = Object.freeze({ coarse: 12, correction: 1 });

interface Build {
  readonly promise: Promise<Outcome<LinkModel>>;
  readonly controller: AbortController;
  wanters: number;
  readonly listeners: Set<(progress: Progress) => void>;
}

interface Entry {
  readonly plan: ModelPlan;
  readonly values: Float64Array[];
  coarse: LinkModel | null;
  fine: LinkModel | null;
  build: Build | null;
}

/**
 * Link models by content. A model is built once in chunks on the back lane; requests that want the same one share the
 * build, which stops when the last of them has been aborted.
 */
export class ModelStore {
  readonly #runner: Runner;
  readonly #plans = new Lru<Promise<Outcome<ModelPlan>>>(24);
  readonly #entries = new Lru<Entry>(6);

  constructor(runner: Runner) {
    this.#runner = runner;
  }

  /** The best model there is now for a design, without waiting. */
  known(design: Design): LinkModel | null {
    const entry = this.#latest(design);
    return entry?.fine ?? entry?.coarse ?? null;
  }

  /** The model at the wanted level, built if need be. */
  async obtain(
    design: Design,
    level: 'coarse' | 'fine',
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<LinkModel>> {
    const plan = await this.#plan(design, signal);
    if (!plan.ok) return plan;
    const entry = this.#entries.obtain(plan.value.key, () => ({
      plan: plan.value,
      values: [],
      coarse: null,
      fine: null,
      build: null,
    }));
    for (;;) {
      if (signal?.aborted) throw abortError();
      const ready = level === 'fine' ? entry.fine : (entry.coarse ?? entry.fine);
      if (ready) return { ok: true, value: ready, elapsedMs: 0 };
      const outcome = await this.#join(design, entry, signal, onProgress);
      if (!outcome.ok) return outcome;
    }
  }

  readonly #recent = new Map<string, string>();

  #latest(design: Design): Entry | undefined {
    const key = this.#recent.get(planKey(design));
    return key === undefined ? undefined : this.#entries.get(key);
  }

  async #plan(design: Design, signal?: AbortSignal): Promise<Outcome<ModelPlan>> {
    const key = planKey(design);
    const known = this.#plans.get(key);
    if (known) return known;
    const promise = this.#runner.run('plan', { design }, { lane: 'back', signal });
    this.#plans.set(key, promise);
    const forget = (): void => {
      if (this.#plans.get(key) === promise) this.#plans.delete(key);
    };
    promise.then((outcome) => {
      if (outcome.ok) {
        if (this.#recent.size > 48) this.#recent.clear();
        this.#recent.set(key, outcome.value.key);
      } else forget();
    }, forget);
    return promise;
  }

  async #join(
    design: Design,
    entry: Entry,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<LinkModel>> {
    if (!entry.build) {
      const controller = new AbortController();
      const listeners = new Set<(progress: Progress) => void>();
      const promise = this.#buildNext(design, entry, controller.signal, (progress) => {
        for (const listener of listeners) listener(progress);
      });
      const build: Build = { promise, controller, wanters: 0, listeners };
      entry.build = build;
      const done = (): void => {
        if (entry.build === build) entry.build = null;
      };
      promise.then(done, done);
    }
    const build = entry.build;
    build.wanters++;
    if (onProgress) build.listeners.add(onProgress);
    try {
      return await new Promise<Outcome<LinkModel>>((resolve, reject) => {
        signal?.addEventListener('abort', () => reject(abortError()), { once: true });
        build.promise.then(resolve, reject);
      });
    } finally {
      build.wanters--;
      if (onProgress) build.listeners.delete(onProgress);
      if (build.wanters === 0 && signal?.aborted) {
        build.controller.abort();
        if (entry.build === build) entry.build = null;
      }
    }
  }

  /** Builds the coarse model, or the fine one where the coarse one stands. */
  async #buildNext(
    design: Design,
    entry: Entry,
    signal: AbortSignal,
    onProgress: (progress: Progress) => void,
  ): Promise<Outcome<LinkModel>> {
    const pass = entry.coarse ? 1 : 0;
    const count = entry.plan.passCounts[pass]!;
    const outputs = entry.plan.outputs;
    const values = new Float64Array(count * outputs);
    const size = pass === 0 ? CHUNK.coarse : CHUNK.correction;
    const stage = pass === 0 ? 'the field around the plates' : 'the field on finer grids';
    let done = 0;
    const order = byGap(LINK_PASSES[pass]!, count);
    const chunk = async (from: number): Promise<Failed | null> => {
      const rows = order.slice(from, from + size);
      const job = { design, plan: entry.plan, pass, rows };
      const outcome = await this.#runner.run('linkPass', job, { lane: 'back', signal });
      if (!outcome.ok) return outcome;
      rows.forEach((row, k) => {
        values.set(outcome.value.subarray(k * outputs, (k + 1) * outputs), row * outputs);
      });
      done += rows.length;
      onProgress({ fraction: done / count, stage });
      return null;
    };
    const failed = entry.plan.hasPlates ? await inChunks(count, size, this.#runner.width, chunk) : null;
    if (failed) return failed;
    const passes = [...entry.values.slice(0, pass), values];
    const model = await this.#runner.run(
      'assembleModel',
      { design, plan: entry.plan, passes },
      { lane: 'back', signal },
    );
    if (!model.ok) return model;
    entry.values[pass] = values;
    if (model.value.level === 'coarse') {
      entry.coarse = model.value;
      return model;
    }
    const bounded = await this.#runner.run('boundModel', { design, model: model.value }, { lane: 'back', signal });
    if (bounded.ok) entry.fine = bounded.value;
    return bounded;
  }
}

/** What a plan depends on: the boards too, because the box grows until the margin is well below zero. */
function planKey(design: Design): string {
  const { transmitter, receiver, placement, demand } = design;
  const { gapMm, yawDeg, tiltXDeg, tiltYDeg } = placement;
  return JSON.stringify([transmitter, receiver, Math.log2(gapMm).toFixed(1), yawDeg, tiltXDeg, tiltYDeg, demand]);
}
