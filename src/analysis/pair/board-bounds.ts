import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { knownBoards } from '../../design/unknown-board.ts';
import { InputError } from '../../numerics/errors.ts';
import { maxOutput } from '../../physics/circuit/max-output.ts';
import type { LinkElectrical } from '../../physics/circuit/types.ts';
import { safeRegion } from '../hold/safe-region.ts';
import { linkAtPose } from '../link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../link/link-context.ts';
import type { LinkModel } from '../link/link-model.ts';
import { marginPercent } from '../margin/margin-percent.ts';
import type { PlateSensitivity } from '../margin/plate-sensitivity.ts';
import { chargesCell, poseAnswer } from '../margin/pose-answer.ts';
import { limitName } from '../margin/state-sentence.ts';
import { offsetGrid } from '../place/offset-grid.ts';
import { centredDesign } from './candidate-report.ts';
import { mirroredCircuit, mirrorRows } from './mirrored-circuit.ts';
import { type BoardUnknown, boardUnknowns, type PlausibleBoard, plausibleBoards } from './plausible-boards.ts';

/** One end of an interval, and the board that gives it. */
export interface BoundEnd {
  readonly value: number;
  readonly board: string;
  /** What limits the current there, in words; empty for a reach. */
  readonly because: string;
}

/** What the link does on any plausible board: intervals instead of one answer. */
export interface BoardBounds {
  /** What is not known, and what is taken instead. */
  readonly unknowns: readonly { readonly name: string; readonly assumption: string }[];
  /** Boards tried, the stated one among them, and how many of them carry the demand with the wanted margin at the design's place. */
  readonly boards: number;
  readonly carrying: number;
  readonly demandA: number;
  /** At the design's place, with the other tolerances' band on both ends, A. */
  readonly maxOutputA: { readonly low: BoundEnd; readonly high: BoundEnd };
  /** About the centre, on a map of few points, mm. */
  readonly reachMm: { readonly low: BoundEnd; readonly high: BoundEnd };
  /** Largest current where one thing alone is unknown and the rest is as stated, A: the widest is to be found out first. */
  readonly alone: readonly { readonly name: string; readonly lowA: number; readonly highA: number }[];
}

/** Points a side of a board's map. Odd, so that the centre is one of them. */
const MAP_POINTS = 17;

/** Numbers of one board: largest current at the design's place, A; reach, mm. */
export const BOARD_NUMBERS = 2;

interface Placed {
  readonly unknowns: readonly BoardUnknown[];
  readonly boards: readonly PlausibleBoard[];
  readonly electrical: LinkElectrical;
  /** Largest current by the exact circuit, A. */
  readonly current: (of: Design, link: LinkElectrical) => number;
}

function placed(design: Design): Placed {
  if (design.transmitter.drive.unknown.length + design.receiver.pickup.unknown.length === 0)
    throw new InputError({
      code: 'nothing-unknown',
      path: 'transmitter.drive.unknown',
      required: 'at least one thing that is not known of a board',
      received: 'none',
      hint: 'Name it there or in receiver.pickup.unknown.',
    });
  const { electrical } = linkAtPose(linkContext(design), poseOfDesign(design), 'fine');
  const unknowns = boardUnknowns(design, electrical);
  const charging = chargesCell(design, demandOf(design));
  return {
    unknowns,
    // What is stated is one of what it may be, usual or not: the interval holds the design's own answer.
    boards: [{ design: knownBoards(design), words: 'as stated' }, ...plausibleBoards(design, unknowns)],
    electrical,
    current: (of, link) => maxOutput(link, boardsOf(of), { charging }).current,
  };
}

/** How many boards there are to try. @throws InputError where the design knows its boards */
export function boardCount(design: Design): number {
  return placed(design).boards.length;
}

/**
 * Boards `from` to `to`: the largest current at the design's place by the exact circuit, and the reach about the centre by
 * first harmonic over the offsets, moved by what the exact circuit gives in the middle.
 *
 * @param model of the centred design (`narrowModel`)
 * @returns [boards, BOARD_NUMBERS] row-major
 */
export function boardTrials(design: Design, model: LinkModel, from: number, to: number): Float64Array {
  const { boards, electrical, current } = placed(design);
  const centred = centredDesign(design);
  const { offsetXMm, offsetYMm } = design.placement;
  const there = offsetXMm === 0 && offsetYMm === 0;
  const middle = there ? electrical : linkAtPose(linkContext(centred), poseOfDesign(centred), 'fine').electrical;
  const grid = offsetGrid(centred, model, MAP_POINTS, null);
  const rows = mirrorRows(model.even, MAP_POINTS, MAP_POINTS);
  const centre = (MAP_POINTS * MAP_POINTS - 1) / 2;
  const { demandA } = demandOf(design);
  const wanted = design.demand.wantedMarginPercent;
  return Float64Array.from(
    boards.slice(from, to).flatMap((board) => {
      const { wakeV, regulator } = board.design.receiver.pickup;
      const here = current(board.design, electrical);
      const atCentre = there ? here : current(board.design, middle);
      const { maxOutputA, wakeV: reached } = mirroredCircuit(board.design, grid, rows);
      const difference = atCentre - maxOutputA[centre]!;
      const slack = maxOutputA.map(
        (amps) => marginPercent(Math.min(Math.max(0, amps + difference), regulator.currentLimitA), demandA) - wanted,
      );
      const { reachMm } = safeRegion(grid.xMm, grid.yMm, [
        { name: 'margin', slack, smooth: true },
        { name: 'waking', slack: reached.map((v) => v - wakeV), smooth: true },
      ]);
      return [here, reachMm];
    }),
  );
}

/**
 * The intervals over all boards, ends of the current with the band of everything else.
 *
 * @param plates answers to the plates' tolerances of the design @param trials of all boards (`boardTrials`)
 */
export function boardBounds(design: Design, plates: readonly PlateSensitivity[], trials: Float64Array): BoardBounds {
  const { unknowns, boards, electrical, current } = placed(design);
  const { demandA } = demandOf(design);
  const wanted = design.demand.wantedMarginPercent;
  const column = (which: number): Float64Array =>
    Float64Array.from(boards, (_, i) => trials[BOARD_NUMBERS * i + which]!);
  const [currents, reaches] = [column(0), column(1)];
  const end = (values: Float64Array, sign: -1 | 1, banded: boolean): BoundEnd => {
    const index = values.reduce((best, value, i) => (sign * (value - values[best]!) > 0 ? i : best), 0);
    const { design: board, words } = boards[index]!;
    if (!banded) return { value: values[index]!, board: words, because: '' };
    const { maxOutputBand, limitedBy } = poseAnswer(board, plates).margin;
    const value = sign < 0 ? maxOutputBand.low : maxOutputBand.high;
    return { value, board: words, because: limitName(limitedBy) };
  };
  const stated = current(knownBoards(design), electrical);
  return {
    unknowns: unknowns.map(({ name, assumption }) => ({ name, assumption })),
    boards: boards.length,
    carrying: currents.filter((amps) => marginPercent(amps, demandA) >= wanted).length,
    demandA,
    maxOutputA: { low: end(currents, -1, true), high: end(currents, 1, true) },
    reachMm: { low: end(reaches, -1, false), high: end(reaches, 1, false) },
    alone: unknowns
      .map((unknown) => {
        const amps = [stated, ...plausibleBoards(design, [unknown]).map((board) => current(board.design, electrical))];
        return { name: unknown.name, lowA: Math.min(...amps), highA: Math.max(...amps) };
      })
      .toSorted((a, b) => b.highA - b.lowA - (a.highA - a.lowA)),
  };
}
