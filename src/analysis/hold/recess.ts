/** How much clearance a recess may have before the margin runs out. */
import type { RecessDocument } from '../../design/types.ts';
import { bracketedRoot } from '../../numerics/bracketed-root.ts';
import { InputError } from '../../numerics/errors.ts';
import { isRound, pocketFor, type RoundedShape, shapeOf } from './device-shape.ts';
import { playBox, type RecessPlay, recessPlay } from './recess-play.ts';
import { type MarginAt, type WorstOptions, type WorstPlacement, worstPlacement } from './worst-placement.ts';

/** Tolerances of a recess, each plus or minus, mm. Widths and heights for pocket and device, a radius for the coils. */
export interface RecessTolerances {
  readonly pocketMm: number;
  readonly deviceMm: number;
  readonly coilPositionMm: number;
}

/** How tolerances add up. */
export type Stacking = 'worst' | 'rss';

/** What the tolerances make of a nominal clearance. */
export interface ClearanceStack {
  /** Largest clearance on each side, mm. */
  readonly loosestMm: number;
  /** Smallest clearance on each side, mm; below zero some devices will not go in. */
  readonly tightestMm: number;
  /** Further offset of the coils against their places, mm, in any direction. */
  readonly coilMm: number;
}

/**
 * Clearance with tolerances. `worst`: every tolerance at its end. `rss`: root of the sum of squares, all added to the
 * clearance's end (about 3 sigma in 3 sigma out when each tolerance is 3 sigma and independent).
 */
export function clearanceStack(clearanceMm: number, tolerances: RecessTolerances, stacking: Stacking): ClearanceStack {
  // A tolerance on a width moves each side by half of it.
  const pocket = tolerances.pocketMm / 2;
  const device = tolerances.deviceMm / 2;
  if (stacking === 'worst')
    return {
      loosestMm: clearanceMm + pocket + device,
      tightestMm: clearanceMm - pocket - device,
      coilMm: tolerances.coilPositionMm,
    };
  const side = Math.hypot(pocket, device);
  const whole = Math.hypot(side, tolerances.coilPositionMm);
  return { loosestMm: clearanceMm + side, tightestMm: clearanceMm - side, coilMm: whole - side };
}

export interface RecessQuestion {
  readonly device: RoundedShape;
  /** Of the pocket; null: see `pocketFor`. */
  readonly cornerRadiusMm: number | null;
  readonly tolerances: RecessTolerances;
  readonly wantedPercent: number;
  readonly marginAt: MarginAt;
  /** Middle of the pocket against the transmitter's axis, mm. */
  readonly centreMm: readonly [number, number];
  /** Largest clearance considered, mm. */
  readonly mostMm: number;
  readonly search: Partial<WorstOptions>;
}

export interface RecessAnswer {
  readonly stacking: Stacking;
  /** Largest nominal clearance on each side that keeps the wanted margin, mm; null where even the tightest fit does not. */
  readonly clearanceMm: number | null;
  /** Smallest nominal clearance at which every device goes into every pocket, mm. */
  readonly leastMm: number;
  /** True where the search ended at `mostMm` and more would still do. */
  readonly unlimited: boolean;
  /** Where the margin is least at that clearance (at the least clearance where there is none). */
  readonly worst: WorstPlacement;
  readonly largestYaw: number;
  /** Half-extents of the offset at no turn, mm, before the coils' own tolerance. */
  readonly playMm: { readonly halfXMm: number; readonly halfYMm: number };
  readonly evaluations: number;
}

/** Play of the loosest pocket around the smallest device at a nominal clearance. */
export function loosestPlay(
  device: RoundedShape,
  clearanceMm: number,
  tolerances: RecessTolerances,
  stacking: Stacking,
  cornerRadiusMm: number | null,
): { readonly play: RecessPlay; readonly coilMm: number } {
  const stack = clearanceStack(clearanceMm, tolerances, stacking);
  const clearance = Math.max(0, stack.loosestMm);
  return { play: recessPlay(device, pocketFor(device, clearance, cornerRadiusMm)), coilMm: stack.coilMm };
}

/** Worst placement that a nominal clearance allows, by the quick margin. */
export function worstAtClearance(question: RecessQuestion, stacking: Stacking, clearanceMm: number): WorstPlacement {
  const { device, tolerances, cornerRadiusMm, marginAt, search, centreMm } = question;
  const { play, coilMm } = loosestPlay(device, clearanceMm, tolerances, stacking, cornerRadiusMm);
  return worstPlacement(play, coilMm, marginAt, search, centreMm);
}

/** Smallest nominal clearance at which every device goes into every pocket, mm. */
export function leastClearance(tolerances: RecessTolerances, stacking: Stacking): number {
  return 0 - clearanceStack(0, tolerances, stacking).tightestMm;
}

/**
 * Largest clearance whose worst placement still has the wanted margin. A larger pocket contains the smaller one, so the
 * worst margin can only fall as the clearance grows: the answer is the root of one monotone function.
 * @throws InputError for negative tolerances. Accuracy: 1e-4 mm of the callback's own root; the worst placement to the
 * polishing step (1e-4 of the play).
 */
export function recommendClearance(question: RecessQuestion, stacking: Stacking): RecessAnswer {
  const { device, tolerances, wantedPercent, cornerRadiusMm } = question;
  for (const [key, value] of Object.entries(tolerances))
    if (!(value >= 0))
      throw new InputError({
        code: 'recess-tolerance',
        path: `holding.recess.${key}`,
        required: 'a tolerance >= 0 mm',
        received: `${value} mm`,
      });
  let evaluations = 0;
  const worstAt = (clearanceMm: number): WorstPlacement => {
    const worst = worstAtClearance(question, stacking, clearanceMm);
    evaluations += worst.evaluations;
    return worst;
  };
  const leastMm = leastClearance(tolerances, stacking);
  const finish = (clearanceMm: number | null, worst: WorstPlacement, unlimited: boolean): RecessAnswer => {
    const { play } = loosestPlay(device, clearanceMm ?? leastMm, tolerances, stacking, cornerRadiusMm);
    return {
      stacking,
      clearanceMm,
      leastMm,
      unlimited,
      worst,
      largestYaw: play.largestYaw,
      playMm: playBox(play, 0) ?? { halfXMm: 0, halfYMm: 0 },
      evaluations,
    };
  };
  const tight = worstAt(leastMm);
  if (!(tight.marginPercent >= wantedPercent)) return finish(null, tight, false);
  const most = Math.max(question.mostMm, leastMm);
  const loose = worstAt(most);
  if (loose.marginPercent >= wantedPercent) return finish(most, loose, true);
  // Margins may be minus infinity where the link sleeps; clip so that the root finder sees finite numbers.
  const over = (worst: WorstPlacement) => Math.max(-1e3, worst.marginPercent - wantedPercent);
  const root = bracketedRoot((c) => over(worstAt(c)), leastMm, most, over(tight), over(loose), {
    xTolerance: 1e-4,
    fTolerance: 1e-4,
    maxEvaluations: 60,
  });
  // Step to the safe side of the root's bracket.
  let clearance = root.value;
  let worst = worstAt(clearance);
  for (let i = 0; i < 8 && worst.marginPercent < wantedPercent && clearance > leastMm; i += 1) {
    clearance = Math.max(leastMm, clearance - 1e-4 * 2 ** i);
    worst = worstAt(clearance);
  }
  return finish(clearance, worst, false);
}

/** What a maker of the pocket should know. `depthMm` of the pocket, null where it is not known. */
export function recessNotes(recess: RecessDocument, depthMm: number | null): string[] {
  const device = shapeOf(recess.outline);
  const notes: string[] = [];
  const slope = Math.tan((recess.draftDeg * Math.PI) / 180);
  const draft = `Draft of ${recess.draftDeg} ${recess.draftDeg === 1 ? 'degree' : 'degrees'}`;
  if (recess.draftDeg > 0)
    notes.push(
      depthMm === null
        ? `${draft} opens the pocket by ${slope.toFixed(3)} mm on each side for every mm of depth; the clearance counts at the floor, where the device rests.`
        : `${draft} makes the mouth ${(slope * depthMm).toFixed(2)} mm wider on each side than the floor; the clearance counts at the floor, where the device rests.`,
    );
  if (!isRound(device)) {
    const most = device.cornerRadiusMm + clearanceStack(recess.clearanceMm, tolerancesOf(recess), 'worst').tightestMm;
    notes.push(
      `Corner radius of the pocket at most ${Math.max(0, most).toFixed(2)} mm, else the tightest device rests on its corners; a cutter leaves at least its own radius.`,
    );
  }
  const tightest = clearanceStack(recess.clearanceMm, tolerancesOf(recess), 'worst').tightestMm;
  if (tightest < 0)
    notes.push(
      `With all tolerances at their ends ${(-tightest).toFixed(2)} mm are missing on each side: some devices will not go in.`,
    );
  return notes;
}

/** Tolerances of the design's recess. */
export function tolerancesOf(recess: RecessDocument): RecessTolerances {
  return {
    pocketMm: recess.pocketToleranceMm,
    deviceMm: recess.deviceToleranceMm,
    coilPositionMm: recess.coilPositionToleranceMm,
  };
}
