import { holdFromLayers } from '../analysis/hold/hold-from-layers.ts';
import { type HoldLayer, holdLayer, type LayerPlan, layerPlans } from '../analysis/hold/hold-layer.ts';
import type { HoldReport } from '../analysis/hold/hold-report.ts';
import { linkContext } from '../analysis/link/link-context.ts';
import {
  assembleLinkModel,
  boundLinkModel,
  LINK_PASSES,
  type LinkModel,
  passPoses,
  solvePassPoses,
} from '../analysis/link/link-model.ts';
import { type ModelPlan, planModel } from '../analysis/link/model-plan.ts';
import { type PlateSensitivity, plateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import { poseAnswer } from '../analysis/margin/pose-answer.ts';
import { quickAnswer } from '../analysis/margin/quick-answer.ts';
import { type SweepPoint, sweepPoint } from '../analysis/place/line-sweep.ts';
import { checkMap, type MapCheck } from '../analysis/place/map-check.ts';
import { type MapCircuit, mapCircuit } from '../analysis/place/map-circuit.ts';
import { type OffsetGrid, offsetGrid } from '../analysis/place/offset-grid.ts';
import { finishOffsetMap } from '../analysis/place/offset-map.ts';
import type { OffsetMap, PoseAnswer, QuickAnswer, SweepAxis } from '../analysis/types.ts';
import type { Design } from '../design/types.ts';
import { ConvergenceError, InputError } from '../numerics/errors.ts';
import type { Outcome } from './types.ts';

/**
 * The jobs a worker offers: each a pure function of plain data, short enough to be one chunk. The same functions run in
 * browser workers, in Node threads and in this thread.
 */
const work = {
  quick: (a: { readonly design: Design; readonly model: LinkModel | null }): QuickAnswer =>
    quickAnswer(a.design, a.model),
  solve: (a: { readonly design: Design; readonly plates: readonly PlateSensitivity[] }): PoseAnswer =>
    poseAnswer(a.design, a.plates),
  sensitivity: (a: { readonly design: Design }): PlateSensitivity[] => plateSensitivity(a.design),
  plan: (a: { readonly design: Design }): ModelPlan => planModel(a.design),
  linkPass: (a: {
    readonly design: Design;
    readonly plan: ModelPlan;
    readonly pass: number;
    readonly from: number;
    readonly to: number;
  }): Float64Array => {
    const context = linkContext(a.design);
    const pass = LINK_PASSES[a.pass]!;
    const poses = passPoses(context, a.plan.attitude, a.plan.domain, pass).subarray(3 * a.from, 3 * a.to);
    return solvePassPoses(context, a.plan.attitude, poses, pass.level);
  },
  assembleModel: (a: {
    readonly design: Design;
    readonly plan: ModelPlan;
    readonly passes: readonly Float64Array[];
  }): LinkModel => assembleLinkModel(linkContext(a.design), a.plan.attitude, a.plan.domain, a.passes),
  boundModel: (a: { readonly design: Design; readonly model: LinkModel }): LinkModel =>
    boundLinkModel(linkContext(a.design), a.model),
  mapGrid: (a: {
    readonly design: Design;
    readonly model: LinkModel;
    readonly points: number;
    readonly spanMm: number | null;
  }): OffsetGrid => offsetGrid(a.design, a.model, a.points, a.spanMm),
  mapCircuit: (a: {
    readonly design: Design;
    readonly grid: OffsetGrid;
    readonly from: number;
    readonly to: number;
  }): MapCircuit => mapCircuit(a.design, a.grid, a.from, a.to),
  mapCheck: (a: {
    readonly design: Design;
    readonly model: LinkModel;
    readonly plates: readonly PlateSensitivity[];
    readonly x: number;
    readonly y: number;
  }): MapCheck => checkMap(a.design, a.model, a.plates, a.x, a.y),
  mapFinish: (a: {
    readonly design: Design;
    readonly model: LinkModel;
    readonly grid: OffsetGrid;
    readonly circuit: MapCircuit;
    readonly checks: readonly MapCheck[];
    readonly timing: Omit<OffsetMap['timing'], 'totalMs'>;
  }): OffsetMap => finishOffsetMap(a.design, a.model, a.grid, a.circuit, a.checks, a.timing),
  holdPlans: (a: { readonly design: Design }): LayerPlan[] => layerPlans(a.design),
  holdLayer: (a: {
    readonly design: Design;
    readonly model: LinkModel;
    readonly plan: LayerPlan;
    readonly checks: readonly MapCheck[];
  }): HoldLayer => holdLayer(a.design, a.model, a.plan, a.checks),
  /** The one long chunk: some seconds, with the direct settling of the recess. */
  holdReport: (a: {
    readonly design: Design;
    readonly model: LinkModel;
    readonly plates: readonly PlateSensitivity[];
    readonly layers: readonly HoldLayer[];
    readonly safeOutline: readonly Float64Array[];
  }): HoldReport => holdFromLayers({ ...a, coilField: null, lottery: {}, direct: true }),
  sweepPart: (a: {
    readonly design: Design;
    readonly axis: SweepAxis;
    readonly at: Float64Array;
    readonly model: LinkModel | null;
    readonly plates: readonly PlateSensitivity[];
  }): SweepPoint[] => Array.from(a.at, (value) => sweepPoint(a.design, a.axis, value, a.model, a.plates)),
};

type Work = typeof work;
export type JobName = keyof Work;
export type JobArguments<K extends JobName> = Parameters<Work[K]>[0];
export type JobResult<K extends JobName> = ReturnType<Work[K]>;

/** Does one job. Expected failures come back as data, because thrown errors lose their fields on the way out of a worker. */
export function doJob<K extends JobName>(name: K, args: JobArguments<K>): Outcome<JobResult<K>> {
  const began = performance.now();
  try {
    const run = work[name] as (input: JobArguments<K>) => JobResult<K>;
    return { ok: true, value: run(args), elapsedMs: performance.now() - began };
  } catch (error) {
    if (error instanceof InputError) return { ok: false, faults: error.faults, message: error.message };
    if (error instanceof ConvergenceError) return { ok: false, faults: [], message: error.message };
    throw error;
  }
}
