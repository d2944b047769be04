/** The hold report from computed layers, whole or part by part: what a worker is asked for. */
import type { Design } from '../../design/types.ts';
import { linkContext } from '../link/link-context.ts';
import type { LinkModel } from '../link/link-model.ts';
import type { PlateSensitivity } from '../margin/plate-sensitivity.ts';
import type { HoldLayer } from './hold-layer.ts';
import { directMargin, gapMargin, marginBand, marginsFromLayers } from './hold-margins.ts';
import { assembleHold, type HoldReport, keptGaps } from './hold-report.ts';
import type { LotteryOptions } from './lottery-report.ts';
import { coilFieldAtMagnets } from './magnet-coil-field.ts';
import { type MagnetReport, magnetReport } from './magnet-report.ts';
import { saturationEffect } from './magnet-saturation.ts';
import type { Stacking } from './recess.ts';
import {
  type CheckedRecess,
  type RecessAdvice,
  type RecessMargins,
  recessQuestion,
  recessReport,
  recommendRecess,
} from './recess-report.ts';
import { regionHere, regionReport } from './region-report.ts';
import type { Ring } from './ring-geometry.ts';
import type { GapLimits } from './tolerance-stack.ts';

export interface HoldInputs {
  readonly design: Design;
  /** Link model at the design's attitude. */
  readonly model: LinkModel;
  readonly plates: readonly PlateSensitivity[];
  /** All layers of `layerPlans(design)`, computed by `holdLayer`; those of use `turns` suffice for a first answer. */
  readonly layers: readonly HoldLayer[];
}

/** Parts worked out before; what is null is left out or worked out here in its quick form. */
export interface HoldPartsDone {
  readonly advice: RecessAdvice | null;
  readonly magnets: MagnetReport | null;
  readonly limits: GapLimits | null;
}

export const NO_PARTS: HoldPartsDone = Object.freeze({ advice: null, magnets: null, limits: null });

/** Largest clearance looked at, mm: the model's box, with room for the tolerances and the turned device. */
function mostClearance({ design, model }: HoldInputs): number {
  const spanMm = Math.min(model.domain.halfX, model.domain.halfY) * 1e3;
  return Math.max(0.5, (spanMm - Math.hypot(design.placement.offsetXMm, design.placement.offsetYMm)) / 1.5);
}

function quickMargins({ design, model, plates, layers }: HoldInputs): RecessMargins {
  return {
    marginAt: marginsFromLayers(design, layers).marginAt,
    directMarginAt: null,
    bandAt: marginBand(design, model, plates),
  };
}

/**
 * Recommended recess with its worst placement solved directly: two or three direct solutions, each some tenths of a second
 * with plates and as many times as the worst placement has differing mirror images.
 */
export function settledRecess(inputs: HoldInputs, stacking: Stacking): CheckedRecess {
  const { design, model } = inputs;
  const { offsetXMm, offsetYMm, yawDeg } = design.placement;
  // Mirror images about the resting place are equal only where it lies on the coils' own axes.
  const straight = yawDeg === 0;
  const margins: RecessMargins = {
    ...quickMargins(inputs),
    directMarginAt: directMargin(design),
    mirrored: { x: straight && model.even.x && offsetXMm === 0, y: straight && model.even.y && offsetYMm === 0 },
  };
  return recommendRecess(recessQuestion(design, margins, mostClearance(inputs)), stacking, margins);
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

/** Gaps that keep the wanted margin at home, by the link model within its box. */
export function keptGapsOf(design: Design, model: LinkModel): GapLimits {
  return keptGaps(design, gapMargin(design, model), [model.domain.gapMin * 1e3, model.domain.gapMax * 1e3]);
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
    magnets: done.magnets ?? magnetReport(design, { safeOutline: safeHere?.outline ?? null }),
    limits: done.limits,
    safeHere,
    region: regionReport(design, layers),
  };
  return assembleHold(design, parts, marginsFromLayers(design, layers).conditions, lottery);
}
