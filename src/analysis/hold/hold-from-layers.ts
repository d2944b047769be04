/** The hold report from computed layers, whole or part by part: what a worker is asked for. */
import type { Design } from '../../design/types.ts';
import type { GridChange } from '../../physics/field/field-model.ts';
import type { SaturationState } from '../../physics/magnet/saturation.ts';
import { bandFor, type HoldInputs, mostClearance } from './hold-inputs.ts';
import { marginsFromLayers } from './hold-margins.ts';
import { assembleHold, type HoldReport } from './hold-report.ts';
import { type LotteryOptions, type LotteryPieces, lotteryPiece } from './lottery-report.ts';
import { type CoilFieldAtMagnets, coilFieldAtMagnets } from './magnet-coil-field.ts';
import { ferriteFluxRound, ferriteOf, ferriteSampleCount, ferriteSamples } from './magnet-ferrite.ts';
import { type MagnetReport, magnetReport } from './magnet-report.ts';
import { SATURATION_CASES, type SaturationCase, saturatedChange, saturationEffect } from './magnet-saturation.ts';
import { type RecessAdvice, type RecessMargins, recessReport } from './recess-report.ts';
import { regionHere, regionReport, type WorstCheck } from './region-report.ts';
import type { Ring } from './ring-geometry.ts';
import type { GapLimits } from './tolerance-stack.ts';

/** Parts worked out before; what is null is left out or worked out here in its quick form. */
export interface HoldPartsDone {
  readonly advice: RecessAdvice | null;
  readonly magnets: MagnetReport | null;
  readonly limits: GapLimits | null;
  /** Of the worst region. */
  readonly check: WorstCheck | null;
  readonly lottery: LotteryPieces | null;
}

export const NO_PARTS: HoldPartsDone = Object.freeze({
  advice: null,
  magnets: null,
  limits: null,
  check: null,
  lottery: null,
});

function quickMargins(inputs: HoldInputs): RecessMargins {
  return {
    marginAt: marginsFromLayers(inputs.design, inputs.layers).marginAt,
    directMarginAt: null,
    bandAt: bandFor(inputs),
  };
}

/** What the magnets' report is put together from, each worked out by itself. Plain data. */
export interface MagnetPieces {
  /** Values of `ferriteSamples`; empty without ferrite. */
  readonly samples: Float64Array;
  readonly flux: SaturationState | null;
  /** Of `saturatedChange`; null without ferrite. */
  readonly changes: Readonly<Record<SaturationCase, GridChange>> | null;
  readonly coilField: CoilFieldAtMagnets | null;
}

/** The magnets from their pieces; null where the design has none. */
export function magnetsFrom(
  design: Design,
  { samples, flux, changes, coilField }: MagnetPieces,
  safeOutline: readonly Ring[] | null,
): MagnetReport | null {
  return magnetReport(design, {
    ferrite: ferriteOf(design, samples, flux),
    safeOutline,
    coilField,
    saturation: flux && changes ? saturationEffect(design, flux, changes) : null,
  });
}

/** All pieces at once: the ferrite of both sides, the coils' field that heats the magnets and what their flux does to the link. */
export function fullMagnets(design: Design, safeOutline: readonly Ring[] | null): MagnetReport | null {
  if (!design.holding.magnets) return null;
  const count = ferriteSampleCount(design);
  let flux = count > 0 ? ferriteFluxRound(design, null) : null;
  while (flux && !flux.settled) flux = ferriteFluxRound(design, flux);
  const settled = flux;
  const changes = settled
    ? (Object.fromEntries(SATURATION_CASES.map((which) => [which, saturatedChange(design, settled, which)])) as Record<
        SaturationCase,
        GridChange
      >)
    : null;
  const samples = ferriteSamples(design, 0, count);
  return magnetsFrom(design, { samples, flux, changes, coilField: coilFieldAtMagnets(design) }, safeOutline);
}

/**
 * The report, with the parts that are given; the others in their quick form: the recess by the layers alone, magnets in air,
 * no gaps. With no part given it takes some tenths of a second.
 */
export function holdFromLayers(
  inputs: HoldInputs,
  done: HoldPartsDone = NO_PARTS,
  lottery: Partial<LotteryOptions> = {},
): HoldReport {
  const { design, layers } = inputs;
  const safeHere = regionHere(design, layers);
  const parts = {
    recess: recessReport(design, quickMargins(inputs), mostClearance(inputs), done.advice),
    magnets: done.magnets ?? magnetReport(design, { safeOutline: safeHere?.region.outline ?? null }),
    limits: done.limits,
    safeHere,
    region: regionReport(design, layers, done.check),
  };
  return assembleHold(design, parts, marginsFromLayers(design, layers).conditions, lottery, done.lottery);
}

/** One piece of the lottery, with recess and magnets as they were worked out. */
export function lotteryFrom<K extends keyof LotteryPieces>(
  inputs: HoldInputs,
  done: Pick<HoldPartsDone, 'advice' | 'magnets'>,
  which: K,
): LotteryPieces[K] {
  const { design, layers } = inputs;
  const recess = recessReport(design, quickMargins(inputs), mostClearance(inputs), done.advice);
  const { conditions } = marginsFromLayers(design, layers);
  return lotteryPiece(which, design, conditions, recess, done.magnets?.holding ?? null);
}
