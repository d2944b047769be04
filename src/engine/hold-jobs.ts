import {
  type AttitudeChange,
  assembleAttitudes,
  attitudePoseCount,
  solveAttitudes,
} from '../analysis/hold/attitude-change.ts';
import {
  type HoldPartsDone,
  holdFromLayers,
  lotteryFrom,
  type MagnetPieces,
  magnetsFrom,
} from '../analysis/hold/hold-from-layers.ts';
import type { HoldInputs } from '../analysis/hold/hold-inputs.ts';
import { type HoldLayer, holdLayer, type LayerPlan, largestTurn, layerPlans } from '../analysis/hold/hold-layer.ts';
import { gapMargin } from '../analysis/hold/hold-margins.ts';
import type { HoldReport } from '../analysis/hold/hold-report.ts';
import type { LotteryPieces } from '../analysis/hold/lottery-report.ts';
import { type CoilFieldAtMagnets, coilFieldAtMagnets } from '../analysis/hold/magnet-coil-field.ts';
import { ferriteFluxRound, ferriteSampleCount, ferriteSamples } from '../analysis/hold/magnet-ferrite.ts';
import type { MagnetReport } from '../analysis/hold/magnet-report.ts';
import { type SaturationCase, saturatedChange } from '../analysis/hold/magnet-saturation.ts';
import type { RecessAnswer, Stacking } from '../analysis/hold/recess.ts';
import type { ClearanceBand } from '../analysis/hold/recess-report.ts';
import type { SettleTry } from '../analysis/hold/recess-settle.ts';
import {
  clearanceBand,
  quickRecess,
  type RecessPlace,
  type RecessStep,
  recessDirect,
  recessStep,
} from '../analysis/hold/recess-steps.ts';
import { regionHere } from '../analysis/hold/region-report.ts';
import { directAt, worstPlaces } from '../analysis/hold/worst-check.ts';
import type { WorstPlace } from '../analysis/hold/worst-check-sum.ts';
import type { LinkModel } from '../analysis/link/link-model.ts';
import type { MapCheck } from '../analysis/place/map-check.ts';
import type { Design } from '../design/types.ts';
import type { GridChange } from '../physics/field/field-model.ts';
import type { SaturationState } from '../physics/magnet/saturation.ts';

interface Linked {
  readonly design: Design;
  readonly model: LinkModel;
}

/** What holding asks of a worker; each a chunk of at most about a tenth of a second. */
export const holdJobs = {
  holdPlans: (a: { readonly design: Design }): LayerPlan[] => layerPlans(a.design),
  holdAttitudeCount: (a: Linked): number => attitudePoseCount(a.design, a.model, largestTurn(a.design)),
  holdAttitudePart: (a: Linked & { readonly from: number; readonly to: number }): Float64Array =>
    solveAttitudes(a.design, a.model, largestTurn(a.design), a.from, a.to),
  holdAttitudes: (a: Linked & { readonly values: Float64Array }): AttitudeChange =>
    assembleAttitudes(a.design, a.model, largestTurn(a.design), a.values),
  holdLayer: (
    a: Linked & {
      readonly plan: LayerPlan;
      readonly checks: readonly MapCheck[];
      readonly attitudes: AttitudeChange | null;
    },
  ): HoldLayer => holdLayer(a.design, a.model, a.plan, a.checks, a.attitudes),
  holdWorstPlaces: (a: { readonly design: Design; readonly layers: readonly HoldLayer[] }): WorstPlace[] =>
    worstPlaces(a.design, a.layers),
  holdWorstDirect: (a: { readonly design: Design; readonly place: WorstPlace }): number => directAt(a.design, a.place),
  holdRecessQuick: (a: HoldInputs & { readonly stacking: Stacking }): RecessAnswer => quickRecess(a, a.stacking),
  holdRecessStep: (
    a: HoldInputs & {
      readonly stacking: Stacking;
      readonly quick: RecessAnswer;
      readonly tries: readonly SettleTry[];
    },
  ): RecessStep => recessStep(a, a.stacking, a.quick, a.tries),
  holdRecessBand: (a: HoldInputs & { readonly stacking: Stacking }): ClearanceBand | null =>
    clearanceBand(a, a.stacking),
  holdRecessDirect: (a: { readonly design: Design; readonly place: RecessPlace }): number => recessDirect(a, a.place),
  holdMagnetCount: (a: { readonly design: Design }): number => ferriteSampleCount(a.design),
  holdMagnetForces: (a: { readonly design: Design; readonly from: number; readonly to: number }): Float64Array =>
    ferriteSamples(a.design, a.from, a.to),
  holdMagnetFlux: (a: { readonly design: Design; readonly before: SaturationState | null }): SaturationState =>
    ferriteFluxRound(a.design, a.before),
  holdMagnetHeat: (a: { readonly design: Design }): CoilFieldAtMagnets | null => coilFieldAtMagnets(a.design),
  /** Some tenths of a second: the plates' answers are worked out anew and cannot be cut. */
  holdSaturated: (a: {
    readonly design: Design;
    readonly flux: SaturationState;
    readonly which: SaturationCase;
  }): GridChange => saturatedChange(a.design, a.flux, a.which),
  holdMagnets: (a: {
    readonly design: Design;
    readonly pieces: MagnetPieces;
    readonly layers: readonly HoldLayer[];
  }): MagnetReport | null => magnetsFrom(a.design, a.pieces, regionHere(a.design, a.layers)?.region.outline ?? null),
  holdGapMargins: (a: Linked & { readonly gapsMm: readonly number[] }): number[] =>
    a.gapsMm.map(gapMargin(a.design, a.model)),
  holdLottery: (
    a: HoldInputs & {
      readonly done: Pick<HoldPartsDone, 'advice' | 'magnets'>;
      readonly which: keyof LotteryPieces;
    },
  ): LotteryPieces[keyof LotteryPieces] => lotteryFrom(a, a.done, a.which),
  holdReport: (
    a: HoldInputs & { readonly done: HoldPartsDone; readonly lottery: { readonly count?: number } },
  ): HoldReport => holdFromLayers(a, a.done, a.lottery),
};
