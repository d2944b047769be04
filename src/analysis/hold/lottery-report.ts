/** What `hold` says about the lottery of placement: with and without each aid. */
import type { Design } from '../../design/types.ts';
import { MOST_TURN } from './attitude-range.ts';
import type { BatchSlack } from './batch-lookup.ts';
import { shapeOf } from './device-shape.ts';
import type { HoldingAnswer } from './holding.ts';
import {
  type ClearanceCurve,
  clearanceCurve,
  LOTTERY_DEFAULTS,
  type LotteryAnswer,
  type LotteryCondition,
  runLotteries,
} from './lottery.ts';
import { type Aid, drawPlacements, type Placements, type Placing } from './placements.ts';
import { placingOf, turnNote } from './placing-of.ts';
import { loosestPlay, type RecessTolerances } from './recess.ts';
import type { RecessPlay } from './recess-play.ts';
import type { RecessReport } from './recess-report.ts';
import { magnetSnap } from './snap.ts';

export type AidName = 'nothing' | 'recess' | 'magnets' | 'both';

/** Placements about the resting place, mm and rad, and whether each meets all conditions (1) or not (0). */
export interface PlacementSample extends Placements {
  readonly works: Uint8Array;
}

export interface AidAnswer {
  readonly aid: AidName;
  readonly answer: LotteryAnswer;
  /** The first placements of the drawing, where they come to rest. */
  readonly sample: PlacementSample;
}

/** The lotteries worked out one by one: without walls, within them, and over the clearance. Plain data. */
export interface LotteryPieces {
  readonly free: readonly AidAnswer[];
  readonly walled: readonly AidAnswer[];
  readonly curve: ClearanceCurve | null;
}

export interface LotteryReport {
  readonly placing: Placing;
  readonly confidence: number;
  readonly seed: number;
  readonly count: number;
  /** One for each aid that there is. */
  readonly byAid: readonly AidAnswer[];
  /** Where placements are turned by more than the maps reach, in words; null where none are. */
  readonly turnNote: string | null;
  /** Clearance of the recess in the lottery, mm. */
  readonly clearanceMm: number | null;
  /** Success against clearance; null without a recess. */
  readonly curve: ClearanceCurve | null;
}

export interface LotteryOptions {
  readonly placing: Placing | null;
  readonly count: number;
  readonly seed: number;
  readonly confidence: number;
}

/** Placements for each point of the clearance curve. */
const CURVE_COUNT = 20_000;
/** Placements kept for a picture. */
const SAMPLE_COUNT = 250;

/** What the lotteries of a design have in common. */
function setupOf(design: Design, recess: RecessReport | null, options: Partial<LotteryOptions>) {
  const { placing, count, seed, confidence } = { ...LOTTERY_DEFAULTS, placing: null, ...options };
  const none: RecessTolerances = { pocketMm: 0, deviceMm: 0, coilPositionMm: 0 };
  const playAt = (clearanceMm: number): RecessPlay | null =>
    recess ? loosestPlay(shapeOf(recess.recess.outline), clearanceMm, none, 'worst', null).play : null;
  const clearanceMm = recess
    ? recess.assumed
      ? (recess.recommended.clearanceMm ?? recess.recommended.leastMm)
      : recess.recess.clearanceMm
    : null;
  return { placing: placing ?? placingOf(design), count, seed, confidence, playAt, clearanceMm };
}

/** One of the pieces: a tenth or two of a second. */
export function lotteryPiece<K extends keyof LotteryPieces>(
  which: K,
  design: Design,
  conditions: readonly LotteryCondition[],
  recess: RecessReport | null,
  holding: HoldingAnswer | null,
  options: Partial<LotteryOptions> = {},
): LotteryPieces[K] {
  const { placing, count, seed, confidence, playAt, clearanceMm } = setupOf(design, recess, options);
  const base = { placing, conditions, count, seed, confidence };
  const snap = holding && holding.captureRadiusMm > 0 ? magnetSnap(holding) : null;
  // The same drawing with and without magnets: the difference is theirs, not the dice's.
  const pair = (walls: RecessPlay | null, names: readonly [AidName, AidName]): AidAnswer[] =>
    runLotteries({ ...base, recess: walls }, holding ? [null, snap] : [null]).map((answer, k) => ({
      aid: names[k]!,
      answer,
      sample: sampleOf(placing, seed, walls, k === 0 ? null : snap, conditions),
    }));
  const pieces: { readonly [P in keyof LotteryPieces]: () => LotteryPieces[P] } = {
    free: () => pair(null, ['nothing', 'magnets']),
    walled: () => {
      const play = clearanceMm === null ? null : playAt(clearanceMm);
      return play ? pair(play, ['recess', 'both']) : [];
    },
    curve: () => {
      if (!recess || clearanceMm === null) return null;
      const steps = Float64Array.from({ length: 7 }, (_, k) => Math.max(0.25, 2 * clearanceMm) * ((k + 1) / 4));
      return clearanceCurve({ ...base, count: Math.min(count, CURVE_COUNT), aid: null }, steps, (c) => playAt(c)!);
    },
  };
  return pieces[which]();
}

/**
 * The lottery with nothing, with the recess, with the magnets and with both. The recess is the design's own, or the recommended
 * one where it names none, at its nominal clearance; the coils' own position tolerance is added as an even scatter of that
 * radius by the caller's conditions if wanted.
 * @param known pieces worked out before; null: worked out here
 */
export function lotteryReport(
  design: Design,
  conditions: readonly LotteryCondition[],
  recess: RecessReport | null,
  holding: HoldingAnswer | null,
  options: Partial<LotteryOptions> = {},
  known: LotteryPieces | null = null,
): LotteryReport {
  const { placing, count, seed, confidence, clearanceMm } = setupOf(design, recess, options);
  const piece = <K extends keyof LotteryPieces>(which: K): LotteryPieces[K] =>
    known ? known[which] : lotteryPiece(which, design, conditions, recess, holding, options);
  const [free, walled] = [piece('free'), piece('walled')];
  const byAid = [free[0], walled[0], free[1], walled[1]].filter((entry) => entry !== undefined);
  const note = turnNote(placing, MOST_TURN);
  return { placing, confidence, seed, count, byAid, turnNote: note, clearanceMm, curve: piece('curve') };
}

/** A handful of placements for a picture: those with magnets begin where those without do. */
function sampleOf(
  placing: Placing,
  seed: number,
  walls: RecessPlay | null,
  aid: Aid | null,
  conditions: readonly LotteryCondition[],
): PlacementSample {
  const some = placing.kind === 'list' ? firstOf(placing, SAMPLE_COUNT) : placing;
  const drawn = drawPlacements(some, SAMPLE_COUNT, seed, walls);
  aid?.(drawn);
  const count = drawn.xMm.length;
  const works = new Uint8Array(count).fill(1);
  const slack = new Float64Array(count);
  for (const condition of conditions) {
    condition.slack(drawn.xMm, drawn.yMm, drawn.yaw, slack);
    for (let k = 0; k < count; k += 1) if (!(slack[k] >= 0)) works[k] = 0;
  }
  return { ...drawn, works };
}

function firstOf(list: Extract<Placing, { kind: 'list' }>, count: number): Placing {
  return {
    kind: 'list',
    xMm: list.xMm.subarray(0, count),
    yMm: list.yMm.subarray(0, count),
    yaw: list.yaw.subarray(0, count),
  };
}

/** One value from a batch look-up. */
export function scalarSlack(slack: BatchSlack): (xMm: number, yMm: number, yaw: number) => number {
  const x = new Float64Array(1);
  const y = new Float64Array(1);
  const turn = new Float64Array(1);
  const out = new Float64Array(1);
  return (xMm, yMm, yaw) => {
    x[0] = xMm;
    y[0] = yMm;
    turn[0] = yaw;
    slack(x, y, turn, out);
    return out[0];
  };
}
