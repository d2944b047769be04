/** What `hold` says about the recess. */
import { DESIGN_DEFAULTS } from '../../design/defaults.ts';
import type { Design, PlateOutlineDocument, RecessDocument } from '../../design/types.ts';
import { bracketedRoot } from '../../numerics/bracketed-root.ts';
import type { Uncertain } from '../types.ts';
import { type RoundedShape, shapeOf } from './device-shape.ts';
import {
  loosestPlay,
  type RecessAnswer,
  type RecessQuestion,
  recessNotes,
  recommendClearance,
  tolerancesOf,
  worstAtClearance,
} from './recess.ts';
import { playBox } from './recess-play.ts';
import { type MarginAt, type WorstPlacement, worstPlacement } from './worst-placement.ts';

export interface RecessReport {
  /** The device's outline and tolerances that were used. */
  readonly recess: RecessDocument;
  /** True where the design names no recess and the outline was taken from the receiver's parts. */
  readonly assumed: boolean;
  /** Largest clearance that keeps the wanted margin with all tolerances at their ends. */
  readonly recommended: CheckedRecess;
  /** The same with tolerances adding up as root of squares. */
  readonly recommendedRss: CheckedRecess;
  /** Worst placement at the clearance the design states; null where it names no recess. */
  readonly asDesigned: {
    readonly clearanceMm: number;
    readonly worst: WorstPlacement;
    readonly keepsMargin: boolean;
  } | null;
  readonly wantedMarginPercent: number;
  readonly notes: readonly string[];
}

/** A recommendation with its worst placement solved directly. */
export interface CheckedRecess extends RecessAnswer {
  /** Margin at the worst placement (and its mirror images) by direct solution, percent; null where none was given. */
  readonly directPercent: number | null;
  /** The model's own band there, percent; null where none was given. */
  readonly band: Uncertain | null;
}

export interface RecessMargins {
  /** Quick margin at an offset (mm) and turn (rad) from the resting place, percent. */
  readonly marginAt: MarginAt;
  /** The same by direct solution; null: not available. */
  readonly directMarginAt: MarginAt | null;
  /** Whether mirror images in x or y (with the turn reversed) have the same margin, so that one direct solution stands for them. */
  readonly mirrored?: { readonly x: boolean; readonly y: boolean };
  /** Margin with the band of model and tolerances; null: not available. */
  readonly bandAt: ((xMm: number, yMm: number, yaw: number) => Uncertain) | null;
}

/** Wall taken around the receiver's parts where the design names no device, mm. */
const ASSUMED_WALL = 3;
/** Direct margin this close to the wanted one ends the search, percent points. */
const DIRECT_AGREEMENT = 0.05;
/** Direct solutions spent on one recommendation, at most (each with its differing mirror images). */
const MOST_DIRECT = 24;
/** Clearance is settled to this, mm. */
const FINEST = 1e-3;

/** Recess of the design, or one around the receiver's coil, ferrite and metal with the default tolerances. */
export function recessOf(design: Design): { readonly recess: RecessDocument; readonly assumed: boolean } {
  if (design.holding.recess) return { recess: design.holding.recess, assumed: false };
  const { coil, ferrite, metal } = design.receiver;
  let width = 0;
  let height = 0;
  const add = (w: number, h: number) => {
    width = Math.max(width, w);
    height = Math.max(height, h);
  };
  const plate = (outline: PlateOutlineDocument) =>
    outline.shape === 'circle'
      ? add(outline.outerDiameterMm, outline.outerDiameterMm)
      : add(outline.outerWidthMm, outline.outerHeightMm);
  if (coil.outline.shape === 'path') for (const [x, y] of coil.outline.pointsMm) add(2 * Math.abs(x), 2 * Math.abs(y));
  else if (coil.outline.shape === 'circle') add(coil.outline.outerDiameterMm, coil.outline.outerDiameterMm);
  else add(coil.outline.outerWidthMm, coil.outline.outerHeightMm);
  if (ferrite) plate(ferrite.outline);
  if (metal) plate(metal.outline);
  const outline: PlateOutlineDocument = {
    shape: 'roundedRectangle',
    outerWidthMm: width + 2 * ASSUMED_WALL,
    outerHeightMm: height + 2 * ASSUMED_WALL,
    outerCornerRadiusMm: Math.min(6, (Math.min(width, height) + 2 * ASSUMED_WALL) / 2),
  };
  return { recess: { ...DESIGN_DEFAULTS.recess, outline }, assumed: true };
}

/**
 * Recommendation by the quick margin; where a direct one is given, the clearance is then settled by it alone: the root of the
 * direct margin at the place that the quick margin says is worst, and at its mirror images.
 */
function recommend(question: RecessQuestion, stacking: 'worst' | 'rss', margins: RecessMargins): CheckedRecess {
  const quick = recommendClearance(question, stacking);
  const answer = margins.directMarginAt ? settle(question, stacking, quick, margins, margins.directMarginAt) : quick;
  const { xMm, yMm, yaw } = answer.worst;
  return { directPercent: null, ...answer, band: margins.bandAt ? margins.bandAt(xMm, yMm, yaw) : null };
}

function settle(
  question: RecessQuestion,
  stacking: 'worst' | 'rss',
  quick: RecessAnswer,
  margins: RecessMargins,
  directMarginAt: MarginAt,
): RecessAnswer & { readonly directPercent: number } {
  const { wantedPercent } = question;
  const tried = new Map<number, { readonly worst: WorstPlacement; readonly direct: number }>();
  const over = (clearanceMm: number): number => {
    const worst = worstAtClearance(question, stacking, clearanceMm);
    const direct = leastOfMirrors(worst, directMarginAt, margins.mirrored ?? { x: false, y: false });
    tried.set(clearanceMm, { worst, direct });
    return Math.max(-150, Math.min(1e3, direct - wantedPercent));
  };
  const least = quick.leastMm;
  const most = Math.max(question.mostMm, least);
  let low = quick.clearanceMm ?? least;
  let overLow = over(low);
  let high = low;
  let overHigh = overLow;
  // Widen on the side where the direct margin says the answer is.
  for (let step = 0.1; overHigh >= 0 && high < most && tried.size < MOST_DIRECT; step *= 2) {
    low = high;
    overLow = overHigh;
    high = Math.min(most, high + step);
    overHigh = over(high);
  }
  for (let step = 0.1; overLow < 0 && low > least && tried.size < MOST_DIRECT; step *= 2) {
    high = low;
    overHigh = overLow;
    low = Math.max(least, low - step);
    overLow = over(low);
  }
  if (overLow >= 0 && overHigh < 0)
    bracketedRoot(over, low, high, overLow, overHigh, {
      xTolerance: FINEST,
      fTolerance: DIRECT_AGREEMENT,
      maxEvaluations: Math.max(2, MOST_DIRECT - tried.size),
    });
  // The largest clearance tried below which every one tried holds.
  const holding = (): { readonly best: number | null; readonly failed: number } => {
    let best: number | null = null;
    for (const clearance of [...tried.keys()].sort((x, y) => x - y)) {
      if (!((tried.get(clearance)?.direct ?? Number.NaN) >= wantedPercent)) return { best, failed: clearance };
      best = clearance;
    }
    return { best, failed: most };
  };
  // The root may lie a hair on the wrong side: step back from the smallest that failed.
  for (let k = 0; k < 4; k += 1) {
    const { best, failed } = holding();
    if (best === null || best === most || failed - best <= 2 * FINEST) break;
    over(Math.max(best, failed - FINEST * 4 ** k));
  }
  const { best } = holding();
  const shown = best ?? least;
  const { worst, direct } = tried.get(shown) ?? { worst: quick.worst, direct: Number.NaN };
  const { play } = loosestPlay(question.device, shown, question.tolerances, stacking, question.cornerRadiusMm);
  return {
    ...quick,
    clearanceMm: best,
    unlimited: best === most,
    worst,
    largestYaw: play.largestYaw,
    playMm: playBox(play, 0) ?? { halfXMm: 0, halfYMm: 0 },
    directPercent: direct,
  };
}

/** Least direct margin of a placement and those of its images in both axes and in the turn that may differ from it. */
function leastOfMirrors(
  worst: WorstPlacement,
  marginAt: MarginAt,
  mirrored: { readonly x: boolean; readonly y: boolean },
): number {
  const seen = new Set<string>();
  let least = Number.POSITIVE_INFINITY;
  for (const sx of [1, -1])
    for (const sy of [1, -1])
      for (const turn of worst.yaw === 0 ? [1] : [1, -1]) {
        // The image that stands for this one: x made positive by the mirror in x, then y; each reverses the turn.
        const flipX = mirrored.x && sx * worst.xMm < 0 ? -1 : 1;
        const flipY = mirrored.y && sy * worst.yMm < 0 ? -1 : 1;
        const image = [sx * flipX, sy * flipY, turn * flipX * flipY] as const;
        if (seen.has(image.join())) continue;
        seen.add(image.join());
        least = Math.min(least, marginAt(image[0] * worst.xMm, image[1] * worst.yMm, image[2] * worst.yaw));
      }
  return least;
}

/** The recess of a design: recommended clearances and what the stated one does. */
export function recessReport(design: Design, margins: RecessMargins, mostMm = 15): RecessReport {
  const { recess, assumed } = recessOf(design);
  const device: RoundedShape = shapeOf(recess.outline);
  const tolerances = tolerancesOf(recess);
  const question: RecessQuestion = {
    device,
    cornerRadiusMm: null,
    tolerances,
    wantedPercent: design.demand.wantedMarginPercent,
    marginAt: margins.marginAt,
    centreMm: [0, 0],
    mostMm,
    search: {},
  };
  const notes = recessNotes(recess, null);
  if (assumed)
    notes.unshift(
      `The design names no recess: the device is taken as ${sizeWords(device)}, the receiver's parts with ${ASSUMED_WALL} mm around them.`,
    );
  const asDesigned = assumed ? null : worstAsDesigned(question, recess.clearanceMm);
  return {
    recess,
    assumed,
    recommended: recommend(question, 'worst', margins),
    recommendedRss: recommend(question, 'rss', margins),
    asDesigned,
    wantedMarginPercent: question.wantedPercent,
    notes,
  };
}

function worstAsDesigned(question: RecessQuestion, clearanceMm: number): RecessReport['asDesigned'] {
  const { play, coilMm } = loosestPlay(question.device, clearanceMm, question.tolerances, 'worst', null);
  const worst = worstPlacement(play, coilMm, question.marginAt, question.search, question.centreMm);
  return { clearanceMm, worst, keepsMargin: worst.marginPercent >= question.wantedPercent };
}

function sizeWords(device: RoundedShape): string {
  return `${(2 * device.halfWidthMm).toFixed(1)} x ${(2 * device.halfHeightMm).toFixed(1)} mm`;
}
