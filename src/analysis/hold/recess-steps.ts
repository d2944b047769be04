/** The recommended recess in steps short enough to be stopped between. */
import type { LinkModel } from '../link/link-model.ts';
import { bandFor, type HoldInputs, mostClearance } from './hold-inputs.ts';
import type { HoldLayer } from './hold-layer.ts';
import { directMargin, marginsFromLayers } from './hold-margins.ts';
import { type RecessAnswer, type RecessQuestion, recommendClearance, type Stacking } from './recess.ts';
import { type CheckedRecess, type ClearanceBand, recessQuestion } from './recess-report.ts';
import { leastOf, type Mirrored, nextSettleStep, type SettleTry, settlePlaces } from './recess-settle.ts';
import type { WorstPlacement } from './worst-placement.ts';

/** An offset in mm and a turn in rad from the resting place. */
export type RecessPlace = readonly [xMm: number, yMm: number, yaw: number];

/** What comes next: placements to be solved directly, or the answer. Plain data. */
export type RecessStep =
  | {
      readonly kind: 'solve';
      readonly clearanceMm: number;
      readonly worst: WorstPlacement;
      readonly places: readonly RecessPlace[];
    }
  | { readonly kind: 'settled'; readonly recess: CheckedRecess };

/** Largest clearance by the quick margin alone: about a tenth of a second. */
export function quickRecess(inputs: HoldInputs, stacking: Stacking): RecessAnswer {
  return recommendClearance(questionOf(inputs), stacking);
}

function questionOf(inputs: HoldInputs): RecessQuestion {
  const { marginAt } = marginsFromLayers(inputs.design, inputs.layers);
  return recessQuestion(inputs.design, { marginAt, directMarginAt: null, bandAt: null }, mostClearance(inputs));
}

/** Mirror images about the resting place are equal only where it lies on the coils' own axes. */
function mirroredOf({ design, model }: Pick<HoldInputs, 'design'> & { readonly model: LinkModel }): Mirrored {
  const { offsetXMm, offsetYMm, yawDeg } = design.placement;
  const straight = yawDeg === 0;
  return { x: straight && model.even.x && offsetXMm === 0, y: straight && model.even.y && offsetYMm === 0 };
}

/** The next step, some tens of milliseconds. @param tries solved so far, in their order */
export function recessStep(
  inputs: HoldInputs,
  stacking: Stacking,
  quick: RecessAnswer,
  tries: readonly SettleTry[],
): RecessStep {
  const step = nextSettleStep(questionOf(inputs), stacking, quick, tries);
  if (step.kind === 'solve') return { ...step, places: settlePlaces(step.worst, mirroredOf(inputs)) };
  const { xMm, yMm, yaw } = step.recess.worst;
  return { kind: 'settled', recess: { ...step.recess, band: bandFor(inputs)(xMm, yMm, yaw), clearanceBandMm: null } };
}

/**
 * Clearances at the ends of the margins' band, by the maps: about a tenth of a second each. Null where the maps have none.
 */
export function clearanceBand(inputs: HoldInputs, stacking: Stacking): ClearanceBand | null {
  const at = (pick: (layer: HoldLayer) => Float64Array | null): number | null | undefined => {
    const layers = inputs.layers.map((layer) => ({ ...layer, marginPercent: pick(layer) ?? layer.marginPercent }));
    return inputs.layers.every((layer) => pick(layer) !== null)
      ? recommendClearance(questionOf({ ...inputs, layers }), stacking).clearanceMm
      : undefined;
  };
  const low = at((layer) => layer.lowPercent);
  const high = at((layer) => layer.highPercent);
  return low === undefined || high === undefined ? null : { low, high };
}

/** Direct margin at a placement, percent: a tenth of a second. */
export function recessDirect(inputs: Pick<HoldInputs, 'design'>, [xMm, yMm, yaw]: RecessPlace): number {
  return directMargin(inputs.design)(xMm, yMm, yaw);
}

/** All steps at once. */
export function settledRecess(inputs: HoldInputs, stacking: Stacking): CheckedRecess {
  const quick = quickRecess(inputs, stacking);
  const tries: SettleTry[] = [];
  for (;;) {
    const step = recessStep(inputs, stacking, quick, tries);
    if (step.kind === 'settled') return { ...step.recess, clearanceBandMm: clearanceBand(inputs, stacking) };
    const { clearanceMm, worst, places } = step;
    tries.push({ clearanceMm, worst, direct: leastOf(places.map((place) => recessDirect(inputs, place))) });
  }
}
