import { linkContext, plainRoughContext } from '../analysis/link/link-context.ts';
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
import { type ExactPoint, exactPoint } from '../analysis/place/line-exact.ts';
import { type SweepPoint, sweepPoint } from '../analysis/place/line-sweep.ts';
import { type CheckKind, checkMap, type MapCheck } from '../analysis/place/map-check.ts';
import { type MapCircuit, mapCircuit } from '../analysis/place/map-circuit.ts';
import { type OffsetGrid, offsetGrid } from '../analysis/place/offset-grid.ts';
import { finishOffsetMap } from '../analysis/place/offset-map.ts';
import type { OffsetMap, PoseAnswer, QuickAnswer, SweepAxis } from '../analysis/types.ts';
import type { Design } from '../design/types.ts';
import type { LinkElectrical } from '../physics/circuit/types.ts';

/** Jobs of the link model, of the pose and of the maps: what a first visit needs. */
export const linkJobs = {
  quick: (a: { readonly design: Design; readonly model: LinkModel | null }): QuickAnswer =>
    quickAnswer(a.design, a.model),
  solve: (a: { readonly design: Design; readonly plates: readonly PlateSensitivity[] }): PoseAnswer =>
    poseAnswer(a.design, a.plates),
  sensitivity: (a: { readonly design: Design }): PlateSensitivity[] => plateSensitivity(a.design),
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
    readonly kind: CheckKind;
  }): MapCheck => checkMap(a.design, a.model, a.plates, a.x, a.y, a.kind),
  mapFinish: (a: {
    readonly design: Design;
    readonly model: LinkModel;
    readonly grid: OffsetGrid;
    readonly circuit: MapCircuit;
    readonly checks: readonly MapCheck[];
    readonly timing: Omit<OffsetMap['timing'], 'totalMs'>;
  }): OffsetMap => finishOffsetMap(a.design, a.model, a.grid, a.circuit, a.checks, a.timing),
  sweepPart: (a: {
    readonly design: Design;
    readonly axis: SweepAxis;
    readonly at: Float64Array;
    readonly model: LinkModel | null;
    readonly plates: readonly PlateSensitivity[];
  }): SweepPoint[] => Array.from(a.at, (value) => sweepPoint(a.design, a.axis, value, a.model, a.plates)),
  sweepExact: (a: { readonly design: Design; readonly link: LinkElectrical; readonly whole: boolean }): ExactPoint =>
    exactPoint(a.design, a.link, a.whole),
};
