import type { Uncertain } from '../types.ts';
import type { Consequence } from './consequence.ts';
import type { TakeOver } from './design-changes.ts';
import type { Suggestion } from './diagnose.ts';
import type { EfficiencyCurve } from './efficiency-curve.ts';
import type { FitParameter } from './fit-parameters.ts';
import type { Combination } from './identify.ts';
import type { Quantity } from './meter-accuracy.ts';
import type { NextReading } from './next-reading.ts';
import type { ParameterGroup, ParameterId } from './parameter-names.ts';

/** One fitted value. Units as the design's key has them; `1` for factors on what was computed. */
export interface FittedValue {
  readonly id: ParameterId;
  readonly name: string;
  readonly group: ParameterGroup;
  readonly path: string | null;
  readonly unit: FitParameter['unit'];
  /** 95 % */
  readonly prior: Uncertain;
  readonly because: string;
  /** Best optimum; the band covers every optimum kept. */
  readonly fitted: Uncertain;
  /** Width left of the prior's, 1: nothing learned. */
  readonly shrink: number;
  /** How far the value moved, in prior standard deviations. */
  readonly pull: number;
  /** readings: at least halved by them; prior: hardly changed; both: between. */
  readonly decidedBy: 'readings' | 'both' | 'prior';
}

/** One measured number beside the model's. SI, temperatures in C. */
export interface Residual {
  readonly quantity: Quantity;
  readonly measured: number;
  readonly predicted: number;
  /** Standard deviation: instrument, model, and the errors of supply voltage and load. */
  readonly sigma: number;
  /** (measured - predicted) / sigma */
  readonly distance: number;
}

export interface ReadingResult {
  /** Place in the design's list, from 0. */
  readonly reading: number;
  readonly regulated: boolean;
  readonly residuals: readonly Residual[];
  /** The model's largest current; null where it lies far above a regulated load and was not worked out exactly. */
  readonly maxOutputA: number | null;
  /** How far the load lies on the right side of it, in its accuracy; null likewise. */
  readonly limitDistance: number | null;
  /** Distance from what the other readings foretell. */
  readonly leftOut: number;
  readonly flags: readonly string[];
}

export interface OptimumReport {
  readonly chi2: number;
  readonly weight: number;
  /** Searches that ended here. */
  readonly starts: number;
  readonly converged: boolean;
  readonly values: readonly { readonly name: string; readonly value: number }[];
}

/** An optimum with its covariance, for maps. */
export interface FittedEnsemble {
  readonly parameters: readonly FitParameter[];
  readonly optima: readonly { readonly z: Float64Array; readonly factor: Float64Array; readonly weight: number }[];
}

export interface FitReport {
  readonly title: string;
  /** The answer: whether readings and model agree, and what becomes of the reach. */
  readonly sentence: string;
  /** What the readings fix, in one sentence. */
  readonly fixes: string;
  readonly converged: boolean;
  readonly readingsUsed: number;
  readonly observations: number;
  /** Readings and priors. */
  readonly chi2: number;
  readonly dataChi2: number;
  /** Of so large a chi-square, if all is right. */
  readonly probability: number;
  /** Root mean square distance of the measured numbers, in their accuracy. */
  readonly agreement: number;
  readonly explains: boolean;
  readonly verdict: string;
  readonly suggestions: readonly Suggestion[];
  readonly parameters: readonly FittedValue[];
  readonly combinations: readonly Combination[];
  readonly singularValues: readonly number[];
  readonly optima: readonly OptimumReport[];
  readonly readings: readonly ReadingResult[];
  readonly next: readonly NextReading[];
  readonly consequence: Consequence;
  readonly curves: readonly EfficiencyCurve[];
  readonly ensemble: FittedEnsemble;
  /** What the fit would change in the design, on request. */
  readonly takeOver: TakeOver;
  readonly notes: readonly string[];
}
