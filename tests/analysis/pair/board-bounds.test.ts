import { beforeAll, describe, expect, it } from 'vitest';
import type { LinkModel } from '../../../src/analysis/link/link-model.ts';
import { poseAnswer } from '../../../src/analysis/margin/pose-answer.ts';
import { tolerancesOf } from '../../../src/analysis/margin/tolerances.ts';
import {
  BOARD_NUMBERS,
  type BoardBounds,
  boardBounds,
  boardCount,
  boardTrials,
} from '../../../src/analysis/pair/board-bounds.ts';
import { boundsSentence } from '../../../src/analysis/pair/board-sentence.ts';
import { narrowModel, narrowPlan, narrowPoses } from '../../../src/analysis/pair/narrow-model.ts';
import { boardUnknowns, plausibleBoards } from '../../../src/analysis/pair/plausible-boards.ts';
import { resonance } from '../../../src/analysis/pair/retune.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import type { Design } from '../../../src/design/types.ts';
import { DRIVE_UNKNOWNS, knownBoards } from '../../../src/design/unknown-board.ts';
import { airPair } from './air-pair.ts';

function unknowing(
  drive: Design['transmitter']['drive']['unknown'],
  pickup: Design['receiver']['pickup']['unknown'] = [],
) {
  const design = airPair();
  design.transmitter.drive.unknown = drive;
  design.receiver.pickup.unknown = pickup;
  return design;
}

const LINK = { l1: 6.3e-6, l2: 12e-6 };

describe('plausible boards', () => {
  it('are every combination of what is not known, and only of that', () => {
    const design = unknowing(['supply', 'capacitor'], ['capacitor']);
    const unknowns = boardUnknowns(design, LINK);
    const boards = plausibleBoards(design, unknowns);
    expect(boards).toHaveLength(unknowns.reduce((product, { levels }) => product * levels.length, 1));
    expect(new Set(boards.map(({ words }) => words)).size).toBe(boards.length);
    for (const { design: board } of boards) {
      // What is known stays as stated.
      expect(board.transmitter.drive.frequencyMinKhz).toBe(design.transmitter.drive.frequencyMinKhz);
      expect(board.transmitter.drive.control).toBe(design.transmitter.drive.control);
      expect(board.transmitter.coil).toBe(design.transmitter.coil);
      expect(board.transmitter.drive.unknown).toEqual([]);
      const { seriesCapacitanceNf } = board.receiver.pickup;
      expect(resonance(LINK.l2, seriesCapacitanceNf * 1e-9) / 1e3).toBeGreaterThan(89.9);
      expect(resonance(LINK.l2, seriesCapacitanceNf * 1e-9) / 1e3).toBeLessThan(110.1);
    }
    expect(plausibleBoards(design, [])).toHaveLength(1);
  });

  it('are designs that the file format takes, with everything unknown', () => {
    const design = unknowing([...DRIVE_UNKNOWNS], ['capacitor']);
    for (const { design: board, words } of plausibleBoards(design, boardUnknowns(design, LINK))) {
      const { assumed: _, ...document } = board;
      const parsed = parseDesign(document);
      expect(parsed.ok, words).toBe(true);
    }
  });

  it('have a half bridge only where the supply is high enough', () => {
    const design = unknowing(['supply', 'control']);
    for (const { design: board } of plausibleBoards(design, boardUnknowns(design, LINK)))
      if (board.transmitter.drive.bridge === 'half') expect(board.transmitter.drive.supplyV).toBeGreaterThanOrEqual(8);
  });
});

describe('a design that does not know its boards', () => {
  it('may say so in its file, and nothing else than the format lists', () => {
    const { assumed: _, ...document } = unknowing(['supply']);
    expect(parseDesign(document).ok).toBe(true);
    const wrong = {
      ...document,
      transmitter: { ...document.transmitter, drive: { ...document.transmitter.drive, unknown: ['colour'] } },
    };
    const parsed = parseDesign(wrong);
    if (parsed.ok) throw new Error('a refusal was expected');
    expect(parsed.faults[0]?.path).toBe('transmitter.drive.unknown[0]');
  });

  it('has wider tolerances, never narrower ones', () => {
    const of = (design: Design, path: string): number => {
      const found = tolerancesOf(design).find((entry) => entry.path === path);
      return found?.enters.kind === 'board' ? found.enters.by : Number.NaN;
    };
    const [known, unknown] = [airPair(), unknowing(['supply', 'frequency', 'capacitor'], ['capacitor'])];
    for (const design of [known, unknown]) {
      Object.assign(design.transmitter.drive, { supplyTolerancePercent: 5, frequencyTolerancePercent: 1 });
      Object.assign(design.transmitter.drive, { seriesCapacitanceTolerancePercent: 5 });
      design.receiver.pickup.seriesCapacitanceTolerancePercent = 5;
    }
    for (const path of [
      'transmitter.drive.supplyV',
      'transmitter.drive.frequencyMinKhz',
      'transmitter.drive.seriesCapacitanceNf',
      'receiver.pickup.seriesCapacitanceNf',
    ])
      expect(of(unknown, path)).toBeGreaterThan(1.5 * of(known, path));
    unknown.transmitter.drive.supplyTolerancePercent = 45;
    expect(of(unknown, 'transmitter.drive.supplyV')).toBeCloseTo(0.45 * unknown.transmitter.drive.supplyV, 9);
  });
});

describe('the bounds', () => {
  const design = unknowing(['supply'], ['capacitor']);
  let bounds: BoardBounds;
  let trials: Float64Array;
  let model: LinkModel;

  beforeAll(() => {
    const plan = narrowPlan(design);
    model = narrowModel(design, plan, narrowPoses(design, plan, 0, plan.poses));
    trials = boardTrials(design, model, 0, boardCount(design));
    // In two parts as in one.
    expect(boardTrials(design, model, 2, 4)).toEqual(trials.slice(2 * BOARD_NUMBERS, 4 * BOARD_NUMBERS));
    bounds = boardBounds(design, [], trials);
  });

  it('are those of the boards at their ends, solved directly with their own bands', () => {
    const stated = { design: knownBoards(design), words: 'as stated' };
    const boards = [stated, ...plausibleBoards(design, boardUnknowns(design, placed()))];
    for (const [end, side] of [
      [bounds.maxOutputA.low, 'low'],
      [bounds.maxOutputA.high, 'high'],
    ] as const) {
      const board = boards.find(({ words }) => words === end.board);
      if (!board) throw new Error('the board must be one of those tried');
      expect(end.value).toBe(poseAnswer(board.design, []).margin.maxOutputBand[side]);
    }
    // And the band of the design itself is wider than that of one that knows.
    const width = ({ low, high }: { low: number; high: number }): number => high - low;
    const own = poseAnswer(design, []).margin.maxOutputBand;
    expect(width(own)).toBeGreaterThan(1.5 * width(poseAnswer(knownBoards(design), []).margin.maxOutputBand));
  });

  it('hold every board, and the one that is stated', () => {
    for (let i = 0; i < bounds.boards; i++) {
      expect(trials[BOARD_NUMBERS * i]).toBeGreaterThanOrEqual(bounds.maxOutputA.low.value);
      expect(trials[BOARD_NUMBERS * i]).toBeLessThanOrEqual(bounds.maxOutputA.high.value);
      expect(trials[BOARD_NUMBERS * i + 1]).toBeGreaterThanOrEqual(bounds.reachMm.low.value);
      expect(trials[BOARD_NUMBERS * i + 1]).toBeLessThanOrEqual(bounds.reachMm.high.value);
    }
    const stated = poseAnswer(knownBoards(design), []).margin.maxOutputA;
    for (const { lowA, highA } of bounds.alone) {
      expect(lowA).toBeLessThanOrEqual(stated);
      expect(highA).toBeGreaterThanOrEqual(stated);
    }
    const widths = bounds.alone.map(({ lowA, highA }) => highA - lowA);
    expect(widths).toEqual(widths.toSorted((a, b) => b - a));
  });

  it('try the stated board too: its own answer lies in the intervals', () => {
    const known = knownBoards(design);
    expect(trials[0]).toBeCloseTo(poseAnswer(known, []).margin.maxOutputA, 9);
    const tried = plausibleBoards(design, boardUnknowns(design, placed()));
    expect(bounds.boards).toBe(tried.length + 1);
  });

  it('are said with their units and what to find out first', () => {
    expect(boundsSentence(bounds)).toMatch(
      /^[\d.]+ to [\d.]+ A here, and a reach of [\d.]+ to [\d.]+ mm, .* (boards|board) tried carr.* A asked/,
    );
  });

  it('are refused where nothing is unknown', () => {
    expect(() => boardCount(airPair())).toThrow(/at least one thing that is not known of a board; received none/);
  });

  function placed() {
    const { link } = poseAnswer(design, []);
    return { l1: link.transmitterInductanceH, l2: link.receiverInductanceH };
  }
});
