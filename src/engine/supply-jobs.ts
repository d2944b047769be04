import type { LinkModel } from '../analysis/link/link-model.ts';
import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import { type PoseLinks, poseLinks } from '../analysis/margin/pose-answer.ts';
import {
  rankSensitivity,
  type Sensitivity,
  type SensitivityBase,
  type SensitivityRow,
  sensitivityBase,
  sensitivityRow,
} from '../analysis/sensitivity/sensitivity.ts';
import { type SensitivityInput, sensitivityInputs } from '../analysis/sensitivity/sensitivity-inputs.ts';
import { type SupplyChoice, type SupplyOption, supplyChoice } from '../analysis/supply/supply-choice.ts';
import {
  type GapPoint,
  type GapReach,
  gapReach,
  gapScan,
  linkAtGap,
  nextGap,
  supplyGapPoint,
} from '../analysis/supply/supply-gap.ts';
import {
  curveLoads,
  type SupplyReport,
  supplyDesigns,
  supplyPoints,
  supplyReport,
} from '../analysis/supply/supply-report.ts';
import type { Design } from '../design/types.ts';
import type { LinkElectrical, LinkState } from '../physics/circuit/types.ts';

type At = { readonly design: Design };
type Plates = readonly PlateSensitivity[];

/** Jobs of the supply choice and of the sensitivities; see `jobs.ts`. */
export const supplyJobs = {
  supplies: (a: At & { readonly suppliesV: readonly number[] }): Design[] => supplyDesigns(a.design, a.suppliesV),
  poseLinks: (a: At): PoseLinks => poseLinks(a.design),
  supplyReport: (
    a: At & { readonly links: PoseLinks; readonly plates: Plates },
  ): { readonly report: SupplyReport; readonly loads: Float64Array } => {
    const report = supplyReport(a.design, a.links, a.plates);
    return { report, loads: curveLoads(report.maxOutputA.value) };
  },
  supplyPoints: (
    a: At & { readonly link: LinkElectrical; readonly loads: Float64Array },
  ): { readonly efficiency: Float64Array; readonly states: LinkState[] } => supplyPoints(a.design, a.link, a.loads),
  gapScan: (a: At): number[] => gapScan(a.design),
  linkAtGap: (a: At & { readonly model: LinkModel; readonly gapMm: number }): LinkElectrical =>
    linkAtGap(a.design, a.model, a.gapMm),
  supplyGapPoint: (a: At & { readonly link: LinkElectrical; readonly gapMm: number }): GapPoint =>
    supplyGapPoint(a.design, a.link, a.gapMm),
  nextGap: (a: At & { readonly points: readonly GapPoint[] }): number | null => nextGap(a.design, a.points),
  gapReach: (
    a: At & { readonly points: readonly GapPoint[]; readonly less: number; readonly more: number },
  ): GapReach => gapReach(a.design, a.points, a.less, a.more),
  supplyChoice: (a: At & { readonly options: readonly SupplyOption[] }): SupplyChoice =>
    supplyChoice(a.design, a.options),
  sensitivityStart: (
    a: At & { readonly links: PoseLinks },
  ): { readonly base: SensitivityBase; readonly inputs: SensitivityInput[] } => ({
    base: sensitivityBase(a.design, a.links),
    inputs: sensitivityInputs(a.design),
  }),
  sensitivityRow: (
    a: At & {
      readonly links: PoseLinks;
      readonly plates: Plates;
      readonly base: SensitivityBase;
      readonly input: SensitivityInput;
    },
  ): SensitivityRow => sensitivityRow(a.design, a.links, a.plates, a.base, a.input),
  sensitivityRank: (
    a: At & { readonly base: SensitivityBase; readonly rows: readonly SensitivityRow[] },
  ): Sensitivity => rankSensitivity(a.design, a.base, a.rows),
};
