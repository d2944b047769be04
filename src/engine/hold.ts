import type { HoldPartsDone } from '../analysis/hold/hold-from-layers.ts';
import type { HoldLayer, LayerPlan } from '../analysis/hold/hold-layer.ts';
import type { HoldReport } from '../analysis/hold/hold-report.ts';
import type { MagnetReport } from '../analysis/hold/magnet-report.ts';
import type { Stacking } from '../analysis/hold/recess.ts';
import type { CheckedRecess } from '../analysis/hold/recess-report.ts';
import type { GapLimits } from '../analysis/hold/tolerance-stack.ts';
import type { LinkModel } from '../analysis/link/link-model.ts';
import { Lru } from '../analysis/lru.ts';
import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import type { MapCheck } from '../analysis/place/map-check.ts';
import type { Design } from '../design/types.ts';
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

/** Everything that maps over offset depend on; not the recess, the magnets, the scatter. */
function linkText({ transmitter, receiver, placement, demand, assumed = [] }: Design): string {
  const guesses = assumed.filter((path) => !/^(holding|readings|meters)\b/.test(path));
  return JSON.stringify([transmitter, receiver, placement, demand, guesses]);
}

/**
 * Holding: maps at several gaps and turns, then recess, magnets, stack and lottery from them. Every part is kept by what it
 * depends on, so that another clearance or another magnet works out only what hangs on it.
 */
export function createHold({ runner, models, now, plateAnswers, checksOver }: HoldResources): HoldSequence {
  const layers = new Lru<HoldLayer>(160);
  const checks = new Lru<readonly MapCheck[]>(12);
  const recesses = new Lru<CheckedRecess>(24);
  const magnets = new Lru<{ readonly report: MagnetReport | null }>(24);
  const limits = new Lru<GapLimits>(24);

  const plansOf = (design: Design, lane: Lane, signal: AbortSignal): Promise<Outcome<LayerPlan[]>> =>
    runner.run('holdPlans', { design }, { lane, signal });

  /** The layers of the plans, those not known yet worked out. */
  async function obtainLayers(
    design: Design,
    model: LinkModel,
    plans: readonly LayerPlan[],
    known: readonly MapCheck[],
    lane: Lane,
    signal: AbortSignal,
    onDone: (share: number) => void,
  ): Promise<Outcome<HoldLayer[]>> {
    const base = `${linkText(design)} ${model.level}`;
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
          const outcome = await runner.run('holdLayer', { design, model, plan, checks: known }, { lane, signal });
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
    const found = await obtainLayers(design, best, turns, corrections.value, 'front', signal, (share) =>
      onProgress?.({ fraction: share, stage: 'a first look' }),
    );
    if (!found.ok) return found;
    // What is known of this very recess and these magnets is better than a first look.
    const done = knownParts(design);
    const report = await runner.run(
      'holdReport',
      { design, model: best, plates: [], layers: found.value, done, lottery: { count: FIRST_COUNT } },
      { lane: 'front', signal },
    );
    return report.ok ? { ...report, elapsedMs: now() - began } : report;
  }

  const recessKey = (design: Design, stacking: Stacking): string => {
    const { recess } = design.holding;
    // The recommendation does not depend on the clearance that the design has now.
    return `${linkText(design)} ${stacking} ${JSON.stringify(recess ? { ...recess, clearanceMm: 0 } : null)}`;
  };
  const magnetKey = (design: Design): string => {
    const { magnets: given, deviceMassG, friction, tableAngleDeg, recess } = design.holding;
    return `${linkText(design)} ${JSON.stringify([given, deviceMassG, friction, tableAngleDeg, recess?.outline ?? null])}`;
  };

  function knownParts(design: Design): HoldPartsDone {
    const worst = recesses.get(recessKey(design, 'worst'));
    const rss = recesses.get(recessKey(design, 'rss'));
    return {
      advice: worst && rss ? { worst, rss } : null,
      magnets: magnets.get(magnetKey(design))?.report ?? null,
      limits: limits.get(linkText(design)) ?? null,
    };
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
    const found = await obtainLayers(design, model.value, plans.value, corrections.value, 'back', signal, (share) =>
      onProgress?.({ fraction: share, stage: 'maps over gap and turn' }),
    );
    if (!found.ok) return found;
    const inputs = { design, model: model.value, plates: plates.value, layers: found.value };
    const failed = await obtainParts(inputs, signal, onProgress);
    if (failed) return failed;
    const report = await runner.run(
      'holdReport',
      { ...inputs, done: knownParts(design), lottery: {} },
      { lane: 'back', signal },
    );
    return report.ok ? { ...report, elapsedMs: now() - began } : report;
  }

  /** Recess, magnets and gaps, those not known yet worked out side by side. */
  async function obtainParts(
    inputs: {
      readonly design: Design;
      readonly model: LinkModel;
      readonly plates: readonly PlateSensitivity[];
      readonly layers: readonly HoldLayer[];
    },
    signal: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Failed | null> {
    const { design, model, layers: all } = inputs;
    const options = { lane: 'back', signal } as const;
    const turns = all.filter((layer) => layer.use === 'turns');
    const settle = (stacking: Stacking) => async (): Promise<Failed | null> => {
      const key = recessKey(design, stacking);
      if (recesses.get(key)) return null;
      const outcome = await runner.run('holdRecess', { ...inputs, layers: turns, stacking }, options);
      if (!outcome.ok) return outcome;
      recesses.set(key, outcome.value);
      return null;
    };
    const parts: readonly (() => Promise<Failed | null>)[] = [
      settle('worst'),
      settle('rss'),
      async () => {
        const key = magnetKey(design);
        if (!design.holding.magnets || magnets.get(key)) return null;
        const outcome = await runner.run('holdMagnets', { design, layers: turns }, options);
        if (!outcome.ok) return outcome;
        magnets.set(key, { report: outcome.value });
        return null;
      },
      async () => {
        const key = linkText(design);
        if (limits.get(key)) return null;
        const outcome = await runner.run('holdGaps', { design, model }, options);
        if (!outcome.ok) return outcome;
        limits.set(key, outcome.value);
        return null;
      },
    ];
    let done = 0;
    return inChunks(parts.length, 1, runner.width, async (index) => {
      const failed = await parts[index]!();
      done++;
      onProgress?.({ fraction: done / (parts.length + 1), stage: 'recess and magnets' });
      return failed;
    });
  }

  return { first, full };
}
