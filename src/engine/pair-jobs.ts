import type { Lesson } from '../analysis/lessons/lesson.ts';
import { lesson } from '../analysis/lessons/lessons.ts';
import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import { type BoardBounds, boardBounds, boardCount, boardTrials } from '../analysis/pair/board-bounds.ts';
import {
  type CandidateReport,
  candidateReport,
  centredDesign,
  centredInductances,
} from '../analysis/pair/candidate-report.ts';
import { type CoilRowReport, type MemberMap, memberMap, rowAnswer } from '../analysis/pair/coil-row.ts';
import { type CoilSizeQuestion, coilSizeReading } from '../analysis/pair/coil-size-reading.ts';
import { idleCoils } from '../analysis/pair/idle-coils.ts';
import { type NarrowPlan, narrowModel, narrowPlan, narrowPoses } from '../analysis/pair/narrow-model.ts';
import { type RetuneAnswer, retune } from '../analysis/pair/retune.ts';
import { type Rivals, rivalsOf } from '../analysis/pair/rivals.ts';
import { type RowMember, rowMembers } from '../analysis/pair/row-design.ts';
import { SEARCH_DIMENSIONS, type SearchRequest, trialDesign } from '../analysis/pair/search-space.ts';
import {
  judgeTrial,
  type SearchBase,
  searchBase,
  type TrialResult,
  tunedTrial,
} from '../analysis/pair/search-trial.ts';
import type { CoilReading } from '../analysis/pair/unknown-coil.ts';
import type { Design } from '../design/types.ts';

/** Jobs of the comparison with rivals, of the search, of the retuning and of the lessons. */
export const pairJobs = {
  rivals: (a: { readonly design: Design }): Rivals => rivalsOf(a.design),
  centredInductances: (a: { readonly design: Design }): { readonly l1: number; readonly l2: number } =>
    centredInductances(a.design),
  narrowPlan: (a: { readonly design: Design }): NarrowPlan => narrowPlan(centredDesign(a.design)),
  narrowPoses: (a: {
    readonly design: Design;
    readonly plan: NarrowPlan;
    readonly from: number;
    readonly to: number;
  }): Float64Array => narrowPoses(a.design, a.plan, a.from, a.to),
  candidate: (a: {
    readonly design: Design;
    readonly plan: NarrowPlan;
    readonly values: Float64Array;
    readonly plates: readonly PlateSensitivity[];
  }): CandidateReport => candidateReport(a.design, narrowModel(a.design, a.plan, a.values), a.plates),
  rowMembers: (a: { readonly design: Design }): RowMember[] => rowMembers(centredDesign(a.design)),
  rowMap: (a: {
    readonly design: Design;
    readonly plan: NarrowPlan;
    readonly values: Float64Array;
    readonly points: number;
    readonly plates: readonly PlateSensitivity[];
  }): MemberMap => memberMap(a.design, narrowModel(a.design, a.plan, a.values), a.points, a.plates),
  rowAnswer: (a: {
    readonly design: Design;
    readonly members: readonly RowMember[];
    readonly maps: readonly MemberMap[];
  }): CoilRowReport => ({
    ...rowAnswer(a.design, a.members, a.maps),
    idle: idleCoils(a.design, a.members[0]!.design),
  }),
  lesson: (a: { readonly number: number }): Lesson => lesson(a.number),
  boardCount: (a: { readonly design: Design }): number => boardCount(a.design),
  boardTrials: (a: {
    readonly design: Design;
    readonly plan: NarrowPlan;
    readonly values: Float64Array;
    readonly from: number;
    readonly to: number;
  }): Float64Array => {
    const centred = centredDesign(a.design);
    return boardTrials(a.design, narrowModel(centred, a.plan, a.values), a.from, a.to);
  },
  boardBounds: (a: {
    readonly design: Design;
    readonly plates: readonly PlateSensitivity[];
    readonly trials: Float64Array;
  }): BoardBounds => boardBounds(a.design, a.plates, a.trials),
  coilSizes: (a: CoilSizeQuestion): CoilReading => coilSizeReading(a),
  retune: (a: { readonly design: Design }): RetuneAnswer => retune(a.design),
  searchBase: (a: { readonly design: Design }): SearchBase => searchBase(a.design),
  /** @param trials [n, SEARCH_DIMENSIONS] row-major */
  searchTrials: (a: {
    readonly request: SearchRequest;
    readonly base: SearchBase;
    readonly trials: Float64Array;
  }): TrialResult[] =>
    Array.from({ length: a.trials.length / SEARCH_DIMENSIONS }, (_, i) =>
      judgeTrial(a.request, a.base, a.trials.subarray(i * SEARCH_DIMENSIONS, (i + 1) * SEARCH_DIMENSIONS)),
    ),
  searchDesigns: (a: {
    readonly request: SearchRequest;
    readonly base: SearchBase;
    readonly trials: Float64Array;
  }): (Design | null)[] =>
    Array.from({ length: a.trials.length / SEARCH_DIMENSIONS }, (_, i) => {
      const trial = trialDesign(a.request, a.trials.subarray(i * SEARCH_DIMENSIONS, (i + 1) * SEARCH_DIMENSIONS));
      return trial ? tunedTrial(a.request, a.base, trial) : null;
    }),
};
