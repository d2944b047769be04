import type { AttitudeChange } from '../analysis/hold/attitude-change.ts';
import type { HoldLayer, LayerPlan } from '../analysis/hold/hold-layer.ts';
import type { HoldReport } from '../analysis/hold/hold-report.ts';
import type { LinkModel } from '../analysis/link/link-model.ts';
import { Lru } from '../analysis/lru.ts';
import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import type { MapCheck } from '../analysis/place/map-check.ts';
import type { Design } from '../design/types.ts';
import { createHoldParts, linkText } from './hold-parts.ts';
import { type Failed, inChunks } from './in-chunks.ts';
import type { ModelStore } from './model-store.ts';
import type { Lane, Runner } from './runner.ts';
import type { Outcome, Progress } from './types.ts';

/** What the question of holding takes from the engine it belongs to. */
export interface HoldResources {
  readonly runner: Runner;
  readonly models: ModelStore;
  readonly now: () => number;
  readonly plateAnswers: (design: Design, signal: AbortSignal) => Promise<Outcome<readonly PlateSensitivity[]>>;
  readonly checksOver: (
    design: Design,
    model: LinkModel,
    plates: readonly PlateSensitivity[],
    xMm: Float64Array,
    yMm: Float64Array,
    signal: AbortSignal,
  ) => Promise<Outcome<MapCheck[]>>;
}

export interface HoldSequence {
  /** See `Engine.holdFirst`. */
  first(design: Design, signal: AbortSignal, onProgress?: (progress: Progress) => void): Promise<Outcome<HoldReport>>;
  /** See `Engine.hold`. */
  full(
    design: Design,
    signal: AbortSignal,
    onProgress?: (progress: Progress) => void,
    onFirst?: (report: HoldReport) => void,
  ): Promise<Outcome<HoldReport>>;
}

/** Placements drawn for a first answer. */
const FIRST_COUNT = 12_000;

/** Attitudes solved in one chunk: some milliseconds each. */
const ATTITUDES_AT_ONCE = 8;

/**
 * Holding: maps at several gaps and turns, then recess, magnets, stack and lottery from them. Every part is kept by what it
 * depends on, so that another clearance or another magnet works out only what hangs on it.
 */
export function createHold({ runner, models, now, plateAnswers, checksOver }: HoldResources): HoldSequence {
  const layers = new Lru<HoldLayer>(240);
  const checks = new Lru<readonly MapCheck[]>(12);
  const attitudes = new Lru<AttitudeChange>(12);
  const parts = createHoldParts(runner);

  const plansOf = (design: Design, lane: Lane, signal: AbortSignal): Promise<Outcome<LayerPlan[]>> =>
    runner.run('holdPlans', { design }, { lane, signal });

  /** The layers of the plans, those not known yet worked out. */
  async function obtainLayers(
    design: Design,
    model: LinkModel,
    plans: readonly LayerPlan[],
    known: readonly MapCheck[],
    turned: AttitudeChange | null,
    lane: Lane,
    signal: AbortSignal,
    onDone: (share: number) => void,
  ): Promise<Outcome<HoldLayer[]>> {
    const base = `${linkText(design)} ${model.level} ${turned ? 'turned' : 'plain'}`;
    const found = new Array<HoldLayer>(plans.length);
    let done = 0;
    const failed = await inChunks(
      plans.length,
      1,
      lane === 'back' ? runner.width : 1,
      async (index): Promise<Failed | null> => {
        const plan = plans[index]!;
        const key = `${base} ${JSON.stringify(plan)}`;
        let layer = layers.get(key);
        if (!layer) {
          const outcome = await runner.run(
            'holdLayer',
            { design, model, plan, checks: known, attitudes: turned },
            { lane, signal },
          );
          if (!outcome.ok) return outcome;
          layer = layers.set(key, outcome.value);
        }
        found[index] = layer;
        done++;
        onDone(done / plans.length);
        return null;
      },
    );
    return failed ?? { ok: true, value: found, elapsedMs: 0 };
  }

  function checksKey(design: Design, model: LinkModel): string {
    return `${linkText(design)} ${model.level}`;
  }

  async function obtainChecks(
    design: Design,
    model: LinkModel,
    plates: readonly PlateSensitivity[],
    plans: readonly LayerPlan[],
    signal: AbortSignal,
  ): Promise<Outcome<readonly MapCheck[]>> {
    const key = checksKey(design, model);
    const known = checks.get(key);
    if (known) return { ok: true, value: known, elapsedMs: 0 };
    const middle = plans.find((plan) => plan.use === 'turns' && plan.yaw === 0);
    if (!middle) return { ok: true, value: [], elapsedMs: 0 };
    const grid = await runner.run(
      'mapGrid',
      { design, model, points: middle.points, spanMm: null },
      { lane: 'back', signal },
    );
    if (!grid.ok) return grid;
    const outcome = await checksOver(design, model, plates, grid.value.xMm, grid.value.yMm, signal);
    if (outcome.ok) checks.set(key, outcome.value);
    return outcome;
  }

  /** Turns and tilts depend on the link, the largest turn of the maps and the tilts that the stack allows. */
  function attitudeKey(design: Design, model: LinkModel, plans: readonly LayerPlan[]): string {
    const most = (pick: (plan: LayerPlan) => number) => plans.reduce((m, plan) => Math.max(m, Math.abs(pick(plan))), 0);
    const turn = Math.max(...plans.map((plan) => (plan.use === 'turns' ? plan.yaw : 0)));
    return `${linkText(design)} ${model.level} ${[turn, most((p) => p.tiltX), most((p) => p.tiltY)]}`;
  }

  /** What turns and tilts do, from direct solves at a few of them. */
  async function obtainAttitudes(
    design: Design,
    model: LinkModel,
    plans: readonly LayerPlan[],
    signal: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<AttitudeChange>> {
    const key = attitudeKey(design, model, plans);
    const known = attitudes.get(key);
    if (known) return { ok: true, value: known, elapsedMs: 0 };
    const options = { lane: 'back', signal } as const;
    const count = await runner.run('holdAttitudeCount', { design, model }, options);
    if (!count.ok) return count;
    const chunks = new Array<Float64Array>(Math.ceil(count.value / ATTITUDES_AT_ONCE));
    let done = 0;
    const failed = await inChunks(count.value, ATTITUDES_AT_ONCE, runner.width, async (from) => {
      const to = Math.min(count.value, from + ATTITUDES_AT_ONCE);
      const outcome = await runner.run('holdAttitudePart', { design, model, from, to }, options);
      if (!outcome.ok) return outcome;
      chunks[from / ATTITUDES_AT_ONCE] = outcome.value;
      onProgress?.({ fraction: ++done / chunks.length, stage: 'turns and tilts' });
      return null;
    });
    if (failed) return failed;
    const values = Float64Array.from(chunks.flatMap((chunk) => [...chunk]));
    const outcome = await runner.run('holdAttitudes', { design, model, values }, options);
    if (outcome.ok) attitudes.set(key, outcome.value);
    return outcome;
  }

  async function first(
    design: Design,
    signal: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<HoldReport>> {
    const began = now();
    const known = models.known(design);
    const model = known ? null : await models.obtain(design, 'coarse', signal, onProgress);
    if (model && !model.ok) return model;
    const best = known ?? (model as { readonly value: LinkModel }).value;
    const plans = await plansOf(design, 'front', signal);
    if (!plans.ok) return plans;
    const turns = plans.value.filter((plan) => plan.use === 'turns');
    const corrections = await obtainChecks(design, best, [], turns, signal);
    if (!corrections.ok) return corrections;
    const turned = attitudes.get(attitudeKey(design, best, plans.value)) ?? null;
    const found = await obtainLayers(design, best, turns, corrections.value, turned, 'front', signal, (share) =>
      onProgress?.({ fraction: share, stage: 'a first look' }),
    );
    if (!found.ok) return found;
    // What is known of this very recess and these magnets is better than a first look.
    const done = parts.known(design);
    const report = await runner.run(
      'holdReport',
      { design, model: best, plates: [], layers: found.value, done, lottery: { count: FIRST_COUNT } },
      { lane: 'front', signal },
    );
    return report.ok ? { ...report, elapsedMs: now() - began } : report;
  }

  async function full(
    design: Design,
    signal: AbortSignal,
    onProgress?: (progress: Progress) => void,
    onFirst?: (report: HoldReport) => void,
  ): Promise<Outcome<HoldReport>> {
    const began = now();
    if (onFirst) {
      const early = await first(design, signal, onProgress);
      if (!early.ok) return early;
      onFirst(early.value);
    }
    const model = await models.obtain(design, 'fine', signal, onProgress);
    if (!model.ok) return model;
    const plates = await plateAnswers(design, signal);
    if (!plates.ok) return plates;
    const plans = await plansOf(design, 'back', signal);
    if (!plans.ok) return plans;
    const corrections = await obtainChecks(design, model.value, plates.value, plans.value, signal);
    if (!corrections.ok) return corrections;
    const turned = await obtainAttitudes(design, model.value, plans.value, signal, onProgress);
    if (!turned.ok) return turned;
    const known = corrections.value;
    const found = await obtainLayers(design, model.value, plans.value, known, turned.value, 'back', signal, (share) =>
      onProgress?.({ fraction: share, stage: 'maps over gap and turn' }),
    );
    if (!found.ok) return found;
    const inputs = { design, model: model.value, plates: plates.value, layers: found.value };
    const failed = await parts.obtain(inputs, 'back', signal, onProgress);
    if (failed) return failed;
    const pieces = await parts.lottery(inputs, signal);
    if (!pieces.ok) return pieces;
    const report = await runner.run(
      'holdReport',
      { ...inputs, done: { ...parts.known(design), lottery: pieces.value }, lottery: {} },
      { lane: 'back', signal },
    );
    return report.ok ? { ...report, elapsedMs: now() - began } : report;
  }

  return { first, full };
}
