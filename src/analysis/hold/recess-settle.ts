/** Settles a recommended clearance by direct solutions at its worst placement. */
import { bracketedRoot } from '../../numerics/bracketed-root.ts';
import { loosestPlay, type RecessAnswer, type RecessQuestion, type Stacking, worstAtClearance } from './recess.ts';
import { playBox } from './recess-play.ts';
import type { MarginAt, WorstPlacement } from './worst-placement.ts';

/** Whether mirror images in x or y (with the turn reversed) have the same margin, so that one solution stands for both. */
export interface Mirrored {
  readonly x: boolean;
  readonly y: boolean;
}

/** A recommendation whose worst placement was solved directly. */
export interface SettledRecess extends RecessAnswer {
  /** Least direct margin of the worst placement and its mirror images, percent. */
  readonly directPercent: number;
  /** Clearances that were solved. */
  readonly directTries: number;
}

/** The direct margin may exceed the wanted one by this, percent points. */
const AGREEMENT = 0.05;
/** Clearance is settled to this where the margin jumps, mm. */
const FINEST = 1e-3;
/** Clearances solved at most, each with its differing mirror images. */
const MOST_TRIES = 16;

/** A clearance whose worst placement was solved directly. Plain data. */
export interface SettleTry {
  readonly clearanceMm: number;
  readonly worst: WorstPlacement;
  /** Least direct margin of the worst placement and its mirror images, percent. */
  readonly direct: number;
}

/** What comes next: a placement to be solved directly, or the answer. */
export type SettleStep =
  | { readonly kind: 'solve'; readonly clearanceMm: number; readonly worst: WorstPlacement }
  | { readonly kind: 'settled'; readonly recess: SettledRecess };

/**
 * The next step towards the largest clearance whose worst placement keeps the wanted margin by direct solution.
 *
 * The quick margin says where the worst placement lies and how fast the margin falls; the direct one says how high it is there.
 * Each step asks the quick margin for the clearance at which it would be as far off as the last direct solution was, which
 * takes two or three solutions where the two differ by a slowly varying amount; where that does not close, the bracket is
 * halved. Tens of milliseconds, so that the direct solutions between can be work of their own.
 * @param quick answer by the quick margin alone. @param tries solved so far, in the order they were solved.
 */
export function nextSettleStep(
  question: RecessQuestion,
  stacking: Stacking,
  quick: RecessAnswer,
  tries: readonly SettleTry[],
): SettleStep {
  const { wantedPercent } = question;
  const least = quick.leastMm;
  const most = Math.max(question.mostMm, least);
  const solve = (clearanceMm: number): SettleStep => ({
    kind: 'solve',
    clearanceMm,
    worst: worstAtClearance(question, stacking, clearanceMm),
  });
  const last = tries[tries.length - 1];
  if (!last) return solve(quick.clearanceMm ?? least);
  const { holds, fails } = bracketOf(tries, wantedPercent);
  const closed =
    (holds && holds.direct - wantedPercent <= AGREEMENT) ||
    (holds && (holds.clearanceMm >= most || (fails && fails.clearanceMm - holds.clearanceMm <= FINEST))) ||
    (!holds && fails && fails.clearanceMm <= least);
  if (!closed && tries.length < MOST_TRIES) {
    const low = holds?.clearanceMm ?? least;
    const high = fails?.clearanceMm ?? most;
    return solve(nextClearance(question, stacking, last, low, high, holds !== null, fails !== null));
  }
  const shown = holds ?? tries.reduce((a, b) => (b.clearanceMm < a.clearanceMm ? b : a));
  const { play } = loosestPlay(
    question.device,
    shown.clearanceMm,
    question.tolerances,
    stacking,
    question.cornerRadiusMm,
  );
  return {
    kind: 'settled',
    recess: {
      ...quick,
      clearanceMm: holds ? holds.clearanceMm : null,
      unlimited: holds !== null && holds.clearanceMm >= most,
      worst: shown.worst,
      largestYaw: play.largestYaw,
      playMm: playBox(play, 0) ?? { halfXMm: 0, halfYMm: 0 },
      directPercent: shown.direct,
      directTries: tries.length,
    },
  };
}

/** The largest that held below every one that did not, and the smallest that did not. */
function bracketOf(
  tries: readonly SettleTry[],
  wantedPercent: number,
): { readonly holds: SettleTry | null; readonly fails: SettleTry | null } {
  let holds: SettleTry | null = null;
  for (const entry of [...tries].sort((a, b) => a.clearanceMm - b.clearanceMm)) {
    if (!(entry.direct >= wantedPercent)) return { holds, fails: entry };
    holds = entry;
  }
  return { holds, fails: null };
}

/**
 * The largest clearance whose worst placement keeps the wanted margin by direct solution: `nextSettleStep` until it is settled.
 * @returns a clearance at which every solved one below it held; null where the tightest fit does not.
 */
export function settleRecess(
  question: RecessQuestion,
  stacking: Stacking,
  quick: RecessAnswer,
  directMarginAt: MarginAt,
  mirrored: Mirrored,
): SettledRecess {
  const tries: SettleTry[] = [];
  for (;;) {
    const step = nextSettleStep(question, stacking, quick, tries);
    if (step.kind === 'settled') return step.recess;
    const margins = settlePlaces(step.worst, mirrored).map(([x, y, yaw]) => directMarginAt(x, y, yaw));
    tries.push({ clearanceMm: step.clearanceMm, worst: step.worst, direct: leastOf(margins) });
  }
}

/** The least of several margins; what is not a number counts as none. */
export function leastOf(margins: readonly number[]): number {
  return margins.reduce(
    (least, value) => Math.min(least, Number.isNaN(value) ? Number.NEGATIVE_INFINITY : value),
    Number.POSITIVE_INFINITY,
  );
}

/** Where to look next between `low` and `high`, whose ends may be bounds that were not solved yet. */
function nextClearance(
  question: RecessQuestion,
  stacking: Stacking,
  last: SettleTry,
  low: number,
  high: number,
  lowHolds: boolean,
  highFails: boolean,
): number {
  const middle = lowHolds && !highFails ? Math.min(high, 2 * low + 0.1) : (low + high) / 2;
  const difference = last.direct - last.worst.marginPercent;
  // A sleeping receiver says nothing about how far off the quick margin is.
  if (!(Math.abs(difference) < 100)) return middle;
  // Half the agreement on the safe side, so that the target itself is met.
  const target = question.wantedPercent + AGREEMENT / 2 - difference;
  const quickAt = (clearanceMm: number) => worstAtClearance(question, stacking, clearanceMm).marginPercent - target;
  const clipped = (value: number) => Math.max(-200, Math.min(200, value));
  const atLow = quickAt(low);
  if (!(atLow >= 0)) return lowHolds ? middle : low;
  const atHigh = quickAt(high);
  if (atHigh >= 0) return highFails ? middle : high;
  const root = bracketedRoot((c) => clipped(quickAt(c)), low, high, clipped(atLow), clipped(atHigh), {
    xTolerance: FINEST / 4,
    fTolerance: AGREEMENT / 4,
    maxEvaluations: 30,
  }).value;
  // Ever closer to an end that was solved already brings nothing.
  const edge = FINEST / 4;
  return (lowHolds && root - low < edge) || (highFails && high - root < edge) ? middle : root;
}

/** A placement and those of its images in both axes and in the turn that may differ from it: x and y in mm, turn in rad. */
export function settlePlaces(worst: WorstPlacement, mirrored: Mirrored): (readonly [number, number, number])[] {
  const seen = new Set<string>();
  const places: (readonly [number, number, number])[] = [];
  for (const sx of [1, -1])
    for (const sy of [1, -1])
      for (const turn of worst.yaw === 0 ? [1] : [1, -1]) {
        // The image that stands for this one: x made positive by the mirror in x, then y; each reverses the turn.
        const flipX = mirrored.x && sx * worst.xMm < 0 ? -1 : 1;
        const flipY = mirrored.y && sy * worst.yMm < 0 ? -1 : 1;
        const image = [sx * flipX, sy * flipY, worst.yaw === 0 ? 1 : turn * flipX * flipY] as const;
        if (seen.has(image.join())) continue;
        seen.add(image.join());
        places.push([image[0] * worst.xMm, image[1] * worst.yMm, image[2] * worst.yaw]);
      }
  return places;
}
