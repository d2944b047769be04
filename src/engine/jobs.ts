import { type ExposureReport, exposureReport, type FieldSource } from '../analysis/exposure/exposure-report.ts';
import { type OperatingSpread, operatingSpread } from '../analysis/feed/operating-spread.ts';
import type { AttitudeHalf } from '../analysis/link/attitude-grid.ts';
import {
  type AttitudePart,
  assembleAttitudePart,
  attitudePoses,
  boundAttitudePart,
  carriesTo,
  modelAtAttitude,
  solveAttitudePoses,
} from '../analysis/link/attitude-part.ts';
import { linkContext, plainRoughContext } from '../analysis/link/link-context.ts';
import type { Attitude, LinkDomain } from '../analysis/link/link-domain.ts';
import {
  assembleLinkModel,
  assembleRoughModel,
  boundLinkModel,
  type LinkModel,
  passPoses,
  solvePassPoses,
} from '../analysis/link/link-model.ts';
import type { LinkPass } from '../analysis/link/link-passes.ts';
import { type ModelPlan, planModel } from '../analysis/link/model-plan.ts';
import { type PlateSensitivity, plateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import { poseAnswer } from '../analysis/margin/pose-answer.ts';
import { quickAnswer } from '../analysis/margin/quick-answer.ts';
import { fieldLineSeeds, fieldLines } from '../analysis/pair/field-lines.ts';
import { type SweepPoint, sweepPoint } from '../analysis/place/line-sweep.ts';
import { checkMap, type MapCheck } from '../analysis/place/map-check.ts';
import { type MapCircuit, mapCircuit } from '../analysis/place/map-circuit.ts';
import { type OffsetGrid, offsetGrid } from '../analysis/place/offset-grid.ts';
import { finishOffsetMap } from '../analysis/place/offset-map.ts';
import type { OffsetMap, PoseAnswer, QuickAnswer, SweepAxis } from '../analysis/types.ts';
import type { Design } from '../design/types.ts';
import { ConvergenceError, InputError } from '../numerics/errors.ts';
import { fitJobs } from './fit-jobs.ts';
import { holdJobs } from './hold-jobs.ts';
import { pairJobs } from './pair-jobs.ts';
import { supplyJobs } from './supply-jobs.ts';
import type { Outcome } from './types.ts';

/**
 * The jobs a worker offers: each a pure function of plain data, short enough to be one chunk. The same functions run in
 * browser workers, in Node threads and in this thread.
 */
const work = {
  ...fitJobs,
  ...holdJobs,
  ...pairJobs,
  ...supplyJobs,
  quick: (a: { readonly design: Design; readonly model: LinkModel | null }): QuickAnswer =>
    quickAnswer(a.design, a.model),
  solve: (a: { readonly design: Design; readonly plates: readonly PlateSensitivity[] }): PoseAnswer =>
    poseAnswer(a.design, a.plates),
  sensitivity: (a: { readonly design: Design }): PlateSensitivity[] => plateSensitivity(a.design),
  operatingSpread: (a: { readonly design: Design; readonly plates: readonly PlateSensitivity[] }): OperatingSpread =>
    operatingSpread(a.design, a.plates),
  exposure: (a: {
    readonly design: Design;
    readonly source: FieldSource;
    readonly plates: readonly PlateSensitivity[];
  }): ExposureReport | null => exposureReport(a.design, a.source, a.plates),
  plan: (a: { readonly design: Design }): ModelPlan => planModel(a.design),
  linkPass: (a: {
    readonly design: Design;
    readonly plan: ModelPlan;
    readonly pass: LinkPass;
    readonly rows: Int32Array;
  }): Float64Array => {
    const context = a.pass.level === 'rough' ? plainRoughContext(a.design) : linkContext(a.design);
    const all = passPoses(context, a.plan.attitude, a.plan.domain, a.pass);
    const poses = Float64Array.from(Array.from(a.rows).flatMap((row) => [...all.subarray(3 * row, 3 * row + 3)]));
    return solvePassPoses(context, a.plan.attitude, poses, a.pass.level);
  },
  roughModel: (a: { readonly design: Design; readonly plan: ModelPlan; readonly values: Float64Array }): LinkModel => {
    const context = plainRoughContext(a.design);
    return boundLinkModel(context, assembleRoughModel(context, a.plan.attitude, a.plan.domain, a.values));
  },
  attitudePoses: (a: {
    readonly design: Design;
    readonly domain: LinkDomain;
    readonly which: AttitudeHalf;
  }): Float64Array => attitudePoses(linkContext(a.design), a.domain, a.which),
  attitudeSolve: (a: { readonly design: Design; readonly poses: Float64Array }): Float64Array =>
    solveAttitudePoses(linkContext(a.design), a.poses),
  attitudePart: (a: {
    readonly design: Design;
    readonly model: LinkModel;
    readonly values: Readonly<Record<AttitudeHalf, Float64Array | null>>;
  }): AttitudePart => {
    const context = linkContext(a.design);
    return boundAttitudePart(context, a.model, assembleAttitudePart(context, a.model.domain, a.values));
  },
  attitudeAble: (a: {
    readonly design: Design;
    readonly base: LinkModel;
    readonly attitude: Attitude;
    readonly gap: number;
  }): boolean => carriesTo(linkContext(a.design), a.base, a.attitude, a.gap),
  modelAtAttitude: (a: {
    readonly design: Design;
    readonly model: LinkModel;
    readonly part: AttitudePart;
    readonly attitude: Attitude;
    readonly gap: number;
  }): LinkModel | null => modelAtAttitude(linkContext(a.design), a.model, a.part, a.attitude, a.gap),
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
  fieldSeeds: (a: { readonly design: Design }): Float64Array => fieldLineSeeds(a.design),
  fieldTrace: (a: { readonly design: Design; readonly seeds: Float64Array }): Float64Array[] =>
    fieldLines(a.design, a.seeds),
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
