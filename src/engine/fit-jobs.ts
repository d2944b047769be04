import type { LinkModel } from '../analysis/link/link-model.ts';
import type { CheckKind, MapCheck } from '../analysis/place/map-check.ts';
import type { OffsetGrid } from '../analysis/place/offset-grid.ts';
import type { Bench } from '../analysis/prove/bench.ts';
import { type BenchLink, type BenchPose, benchLink } from '../analysis/prove/bench-links.ts';
import type { Prediction } from '../analysis/prove/bench-prediction.ts';
import { type PairFacts, pairFacts } from '../analysis/prove/coil-facts.ts';
import type { Corrections } from '../analysis/prove/corrections.ts';
import { type Asked, answersOf, type Draw, type DrawnAnswers } from '../analysis/prove/drawn-answers.ts';
import { type CurveGroup, type EfficiencyCurve, efficiencyCurve } from '../analysis/prove/efficiency-curve.ts';
import type { FittedEnsemble } from '../analysis/prove/fit-report.ts';
import { checkFittedMap, fittedDesign, fittedGrid } from '../analysis/prove/fitted-map.ts';
import {
  type FitOptions,
  type Optimum,
  optimumAt,
  type PredictionPair,
  predictionsAt,
  type RoughOptimum,
  searchFrom,
  settle,
} from '../analysis/prove/optimum.ts';
import type { Design } from '../design/types.ts';

type At = { readonly bench: Bench; readonly z: Float64Array };
type Mapped = { readonly design: Design; readonly ensemble: FittedEnsemble };

/** Jobs of the fit; see `jobs.ts`. Each lasts some tenths of a second at most, the field of a place on plates aside. */
export const fitJobs = {
  benchLink: (a: { readonly design: Design; readonly pose: BenchPose }): BenchLink => benchLink(a.design, a.pose),
  benchFacts: (a: { readonly design: Design; readonly home: BenchLink }): PairFacts => pairFacts(a.design, a.home),
  fitSearch: (a: { readonly bench: Bench; readonly start: number; readonly options: FitOptions }): RoughOptimum =>
    searchFrom(a.bench, a.start, a.options),
  fitExact: (a: At & { readonly from: number; readonly to: number }): PredictionPair =>
    predictionsAt(a.bench, a.z, a.from, a.to),
  fitSettle: (a: At & { readonly corrections: Corrections; readonly options: FitOptions }): ReturnType<typeof settle> =>
    settle(a.bench, a.z, a.corrections, a.options),
  fitOptimum: (
    a: At & {
      readonly corrections: Corrections;
      readonly predictions: readonly Prediction[];
      readonly converged: boolean;
    },
  ): Optimum => optimumAt(a.bench, a.z, a.corrections, a.predictions, a.converged),
  fitAnswers: (a: {
    readonly asked: Asked;
    readonly draws: readonly Draw[];
    readonly by: 'quick' | 'exact';
  }): DrawnAnswers => answersOf(a.asked, a.draws, a.by),
  fitCurve: (a: At & { readonly group: CurveGroup }): EfficiencyCurve => efficiencyCurve(a.bench, a.z, a.group),
  fittedDesign: (a: Mapped): Design => fittedDesign(a.design, a.ensemble),
  fittedGrid: (a: Mapped & { readonly model: LinkModel; readonly points: number }): OffsetGrid =>
    fittedGrid(a.design, a.model, a.ensemble, a.points),
  fittedCheck: (
    a: Mapped & { readonly model: LinkModel; readonly x: number; readonly y: number; readonly kind: CheckKind },
  ): MapCheck => checkFittedMap(a.design, a.model, a.ensemble, a.x, a.y, a.kind),
};
