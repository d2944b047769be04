import type { AttitudePart } from '../analysis/link/attitude-part.ts';
import type { LinkModel } from '../analysis/link/link-model.ts';
import { byGap, LINK_PASSES, type LinkPass, ROUGH_PASS } from '../analysis/link/link-passes.ts';
import type { ModelPlan } from '../analysis/link/model-plan.ts';
import { Lru } from '../analysis/lru.ts';
import type { Design } from '../design/types.ts';
import { STOPPED } from './abort.ts';
import { AttitudeStore } from './attitude-store.ts';
import { type Failed, inChunks } from './in-chunks.ts';
import type { Runner } from './runner.ts';
import type { Outcome, Progress } from './types.ts';

/** Poses per chunk: a rough or coarse solve takes some milliseconds, a fine one some tens. */
const CHUNK = Object.freeze({ rough: 20, coarse: 12, correction: 1, fine: 1 });

const STAGE = Object.freeze({
  rough: 'a first look at the field',
  coarse: 'the field around the plates',
  correction: 'the field on finer grids',
  fine: 'the field on finer grids',
});

export type ModelLevel = LinkModel['level'];

interface Build {
  readonly promise: Promise<Outcome<LinkModel>>;
  readonly controller: AbortController;
  wanters: number;
  readonly listeners: Set<(progress: Progress) => void>;
}

interface Entry {
  readonly plan: ModelPlan;
  readonly values: Float64Array[];
  readonly models: Record<ModelLevel, LinkModel | null>;
  build: Build | null;
}

/** The best model of an entry. */
function bestOf(entry: Entry | undefined): LinkModel | null {
  return entry ? (entry.models.fine ?? entry.models.coarse ?? entry.models.rough) : null;
}

/** The best model of at least a level. */
function readyOf({ models }: Entry, level: ModelLevel): LinkModel | null {
  if (level === 'fine') return models.fine;
  return models.fine ?? models.coarse ?? (level === 'rough' ? models.rough : null);
}

/**
 * Link models by content. A model is built once in chunks on the back lane; requests that want the same one share the
 * build, which stops when the last of them has been aborted. A design that differs from one with a fine model by its
 * attitude alone takes that model, carried over.
 */
export class ModelStore {
  readonly #runner: Runner;
  readonly #plans = new Lru<Promise<Outcome<ModelPlan>>>(24);
  readonly #entries = new Lru<Entry>(6);
  readonly #attitudes: AttitudeStore;

  constructor(runner: Runner) {
    this.#runner = runner;
    this.#attitudes = new AttitudeStore(runner);
  }

  /** The best model there is now for a design, without waiting. */
  known(design: Design): LinkModel | null {
    return bestOf(this.#latest(design));
  }

  /**
   * A fine model of a design's link and how it is carried to other attitudes (`modelAtAttitude`): turns, and tilts where the
   * design is tilted or `tilts` asks. Built if need be, some seconds at the first call for a link and box.
   */
  async attitudes(
    design: Design,
    tilts: boolean,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<{ readonly base: LinkModel; readonly part: AttitudePart }>> {
    const model = await this.obtain(design, 'fine', signal, onProgress);
    if (!model.ok) return model;
    const base = this.#attitudes.sourceOf(model.value) ?? model.value;
    const { tiltX, tiltY } = model.value.attitude;
    const part = await this.#attitudes.obtain(design, base, tilts || tiltX !== 0 || tiltY !== 0, signal, onProgress);
    return part.ok ? { ok: true, value: { base, part: part.value }, elapsedMs: 0 } : part;
  }

  /** The model at the wanted level or a better one, built if need be. */
  async obtain(
    design: Design,
    level: ModelLevel,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<LinkModel>> {
    const plan = await this.#plan(design, signal);
    if (!plan.ok) return plan;
    const entry = this.#entries.obtain(plan.value.key, () => ({
      plan: plan.value,
      values: [],
      models: { rough: null, coarse: null, fine: null },
      build: null,
    }));
    for (;;) {
      if (signal?.aborted) throw STOPPED;
      const ready = readyOf(entry, level);
      if (ready) return { ok: true, value: ready, elapsedMs: 0 };
      const outcome = await this.#join(design, entry, level, signal, onProgress);
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
    level: ModelLevel,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<LinkModel>> {
    if (!entry.build) {
      const controller = new AbortController();
      const listeners = new Set<(progress: Progress) => void>();
      const promise = this.#buildNext(design, entry, level, controller.signal, (progress) => {
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
        signal?.addEventListener('abort', () => reject(STOPPED), { once: true });
        build.promise.then(resolve, reject);
      });
    } finally {
      build.wanters--;
      if (onProgress) build.listeners.delete(onProgress);
      if (build.wanters === 0 && signal?.aborted) {
        build.controller.abort(STOPPED);
        if (entry.build === build) entry.build = null;
      }
    }
  }

  /** Builds the next model on the way to a level: the rough one if nothing better is wanted, the coarse one, the fine one. */
  async #buildNext(
    design: Design,
    entry: Entry,
    level: ModelLevel,
    signal: AbortSignal,
    onProgress: (progress: Progress) => void,
  ): Promise<Outcome<LinkModel>> {
    const { plan, models } = entry;
    const carried = await this.#attitudes.carried(design, plan, signal, onProgress);
    if (carried && !carried.ok) return carried;
    if (carried?.value) {
      models.fine = carried.value;
      return { ok: true, value: carried.value, elapsedMs: 0 };
    }
    if (level === 'rough') {
      const values = await this.#solve(design, plan, ROUGH_PASS, plan.roughCount, signal, onProgress);
      if (!values.ok) return values;
      const model = await this.#runner.run(
        'roughModel',
        { design, plan, values: values.value },
        { lane: 'back', signal },
      );
      if (model.ok) models[model.value.level] = model.value;
      return model;
    }
    const index = models.coarse ? 1 : 0;
    const values = await this.#solve(design, plan, LINK_PASSES[index]!, plan.passCounts[index]!, signal, onProgress);
    if (!values.ok) return values;
    const passes = [...entry.values.slice(0, index), values.value];
    const model = await this.#runner.run('assembleModel', { design, plan, passes }, { lane: 'back', signal });
    if (!model.ok) return model;
    entry.values[index] = values.value;
    if (model.value.level === 'coarse') {
      models.coarse = model.value;
      return model;
    }
    const bounded = await this.#runner.run('boundModel', { design, model: model.value }, { lane: 'back', signal });
    if (bounded.ok) {
      models.fine = bounded.value;
      this.#attitudes.remember(design, bounded.value);
    }
    return bounded;
  }

  /** The values of a pass, solved in chunks. */
  async #solve(
    design: Design,
    plan: ModelPlan,
    pass: LinkPass,
    count: number,
    signal: AbortSignal,
    onProgress: (progress: Progress) => void,
  ): Promise<Outcome<Float64Array>> {
    const { outputs } = plan;
    const values = new Float64Array(count * outputs);
    const size = CHUNK[pass.level];
    const order = byGap(pass, count);
    let done = 0;
    const chunk = async (from: number): Promise<Failed | null> => {
      const rows = order.slice(from, from + size);
      const job = { design, plan, pass, rows };
      const outcome = await this.#runner.run('linkPass', job, { lane: 'back', signal });
      if (!outcome.ok) return outcome;
      rows.forEach((row, k) => {
        values.set(outcome.value.subarray(k * outputs, (k + 1) * outputs), row * outputs);
      });
      done += rows.length;
      onProgress({ fraction: done / count, stage: STAGE[pass.level] });
      return null;
    };
    const failed = plan.hasPlates ? await inChunks(count, size, this.#runner.width, chunk) : null;
    return failed ?? { ok: true, value: values, elapsedMs: 0 };
  }
}

/** What a plan depends on: the boards too, because the box grows until the margin is well below zero. */
function planKey(design: Design): string {
  const { transmitter, receiver, placement, demand } = design;
  const { gapMm, yawDeg, tiltXDeg, tiltYDeg } = placement;
  return JSON.stringify([transmitter, receiver, Math.log2(gapMm).toFixed(1), yawDeg, tiltXDeg, tiltYDeg, demand]);
}
