/** The hold report from computed layers, whole or part by part: what a worker is asked for. */
import type { Design } from '../../design/types.ts';
import { linkContext } from '../link/link-context.ts';
import { bandFor, type HoldInputs, mostClearance } from './hold-inputs.ts';
import { marginsFromLayers } from './hold-margins.ts';
import { assembleHold, type HoldReport } from './hold-report.ts';
import type { LotteryOptions } from './lottery-report.ts';
import { coilFieldAtMagnets } from './magnet-coil-field.ts';
import { type MagnetReport, magnetReport } from './magnet-report.ts';
import { saturationEffect } from './magnet-saturation.ts';
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
}

export const NO_PARTS: HoldPartsDone = Object.freeze({ advice: null, magnets: null, limits: null, check: null });

function quickMargins(inputs: HoldInputs): RecessMargins {
  return {
    marginAt: marginsFromLayers(inputs.design, inputs.layers).marginAt,
    directMarginAt: null,
    bandAt: bandFor(inputs),
  };
}

/**
 * The magnets with the ferrite of both sides, the coils' field that heats them and what their flux does to the link: a few
 * seconds with ferrite. Null where the design has no magnets.
 */
export function fullMagnets(
  design: Design,
  safeOutline: readonly Ring[] | null,
  onProgress: (share: number) => void = () => {},
): MagnetReport | null {
  if (!design.holding.magnets) return null;
  const { transmitter, receiver } = linkContext(design);
  return magnetReport(design, {
    sides: { transmitter, receiver },
    safeOutline,
    coilField: coilFieldAtMagnets(design),
    saturationOf: (flux) => saturationEffect(design, flux),
    onProgress,
  });
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
  return assembleHold(design, parts, marginsFromLayers(design, layers).conditions, lottery);
}
