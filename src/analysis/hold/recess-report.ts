/** What `hold` says about the recess. */
import { DESIGN_DEFAULTS } from '../../design/defaults.ts';
import type { Design, PlateOutlineDocument, RecessDocument } from '../../design/types.ts';
import type { Uncertain } from '../types.ts';
import { type RoundedShape, shapeOf } from './device-shape.ts';
import {
  loosestPlay,
  type RecessAnswer,
  type RecessQuestion,
  recessNotes,
  recommendClearance,
  type Stacking,
  tolerancesOf,
} from './recess.ts';
import { type Mirrored, settleRecess } from './recess-settle.ts';
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

export interface ClearanceBand {
  readonly low: number | null;
  readonly high: number | null;
}

/** A recommendation with its worst placement solved directly. */
export interface CheckedRecess extends RecessAnswer {
  /** Margin at the worst placement (and its mirror images) by direct solution, percent; null where none was given. */
  readonly directPercent: number | null;
  /** Clearances that were solved directly. */
  readonly directTries: number;
  /** The model's own band there, percent; null where none was given. */
  readonly band: Uncertain | null;
  /**
   * Clearances that the band's ends would allow, mm: `low` null where a margin at the low end allows none. Null as a whole where
   * no band is known.
   */
  readonly clearanceBandMm: ClearanceBand | null;
}

export interface RecessMargins {
  /** Quick margin at an offset (mm) and turn (rad) from the resting place, percent. */
  readonly marginAt: MarginAt;
  /** The same by direct solution; null: not available. */
  readonly directMarginAt: MarginAt | null;
  /** Whether mirror images in x or y (with the turn reversed) have the same margin, so that one direct solution stands for them. */
  readonly mirrored?: Mirrored;
  /** Margin with the band of model and tolerances; null: not available. */
  readonly bandAt: ((xMm: number, yMm: number, yaw: number) => Uncertain) | null;
}

/** Wall taken around the receiver's parts where the design names no device, mm. */
const ASSUMED_WALL = 3;
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

/** What a recess must answer: the device's outline, its tolerances, the margins. */
export function recessQuestion(design: Design, margins: RecessMargins, mostMm: number): RecessQuestion {
  const { recess } = recessOf(design);
  return {
    device: shapeOf(recess.outline),
    cornerRadiusMm: null,
    tolerances: tolerancesOf(recess),
    wantedPercent: design.demand.wantedMarginPercent,
    marginAt: margins.marginAt,
    centreMm: [0, 0],
    mostMm,
    search: {},
  };
}

/**
 * Recommendation by the quick margin; where a direct one is given, the clearance is then settled by it alone (see
 * `settleRecess`).
 */
export function recommendRecess(question: RecessQuestion, stacking: Stacking, margins: RecessMargins): CheckedRecess {
  const quick = recommendClearance(question, stacking);
  const answer = margins.directMarginAt
    ? settleRecess(question, stacking, quick, margins.directMarginAt, margins.mirrored ?? { x: false, y: false })
    : quick;
  const { xMm, yMm, yaw } = answer.worst;
  return {
    directPercent: null,
    directTries: 0,
    clearanceBandMm: null,
    ...answer,
    band: margins.bandAt ? margins.bandAt(xMm, yMm, yaw) : null,
  };
}

/** Both recommendations of a recess. */
export interface RecessAdvice {
  readonly worst: CheckedRecess;
  readonly rss: CheckedRecess;
}

/**
 * The recess of a design: recommended clearances and what the stated one does.
 * @param advice recommendations worked out before; null: worked out here.
 */
export function recessReport(
  design: Design,
  margins: RecessMargins,
  mostMm = 15,
  advice: RecessAdvice | null = null,
): RecessReport {
  const { recess, assumed } = recessOf(design);
  const question = recessQuestion(design, margins, mostMm);
  const notes = recessNotes(recess, null);
  if (assumed)
    notes.unshift(
      `The design names no recess: the device is taken as ${sizeWords(question.device)}, the receiver's parts with ${ASSUMED_WALL} mm around them.`,
    );
  return {
    recess,
    assumed,
    recommended: advice?.worst ?? recommendRecess(question, 'worst', margins),
    recommendedRss: advice?.rss ?? recommendRecess(question, 'rss', margins),
    asDesigned: assumed ? null : worstAsDesigned(question, recess.clearanceMm),
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
