import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import { varimax } from '../../numerics/varimax.ts';
import type { FitParameter } from './fit-parameters.ts';
import type { Optimum } from './optimum.ts';
import { type Posterior, varianceAlong } from './posterior.ts';

/** A direction of the parameters that the readings fix. */
export interface Combination {
  /** `the sum of supply and bridge resistance` */
  readonly words: string;
  /** Its uncertainty against that of the priors: 0.2 says five times narrower. */
  readonly shrink: number;
  /** Largest parts, signed, in prior standard deviations. */
  readonly parts: readonly { readonly name: string; readonly share: number }[];
}

export interface Identification {
  /** Of the readings' slopes, largest first: how many prior widths each direction is known better than, before the prior. */
  readonly singularValues: readonly number[];
  readonly combinations: readonly Combination[];
}

/** A direction is called determined where the readings halve what was known of it: singular value above the square root of 3. */
const DETERMINED = Math.sqrt(3);

/** A part of a direction is named where it is at least so large beside the largest, and at most so many are. */
const NAMED_SHARE = 0.4;
const MOST_NAMED = 4;

/** Singular values of the readings' slopes and the directions they fix, turned so that each has few parts. */
export function identify(parameters: readonly FitParameter[], optimum: Optimum, posterior: Posterior): Identification {
  const n = parameters.length;
  const rows = optimum.residuals.length;
  if (rows === 0) return { singularValues: [], combinations: [] };
  const slopes = new Matrix(Array.from({ length: rows }, (_, i) => [...optimum.jacobian.subarray(i * n, (i + 1) * n)]));
  const scaled = slopes.div(posterior.widened);
  const svd = new SingularValueDecomposition(rows >= n ? scaled : scaled.transpose(), { autoTranspose: true });
  const right = rows >= n ? svd.rightSingularVectors : svd.leftSingularVectors;
  const values = svd.diagonal;
  const order = values.map((_, k) => k).sort((a, b) => values[b] - values[a]);
  const kept = order.filter((k) => values[k] > DETERMINED);
  const columns = new Float64Array(n * kept.length);
  kept.forEach((k, at) => {
    for (let i = 0; i < n; i++) columns[i * kept.length + at] = right.get(i, k);
  });
  varimax(columns, n, kept.length);
  const combinations = kept.map((_, at): Combination => {
    const direction = Float64Array.from({ length: n }, (_unused, i) => columns[i * kept.length + at]);
    return combinationOf(parameters, direction, Math.sqrt(varianceAlong(posterior.covariance, direction)));
  });
  combinations.sort((a, b) => a.shrink - b.shrink);
  return { singularValues: order.map((k) => values[k]), combinations };
}

function combinationOf(parameters: readonly FitParameter[], direction: Float64Array, shrink: number): Combination {
  const order = Array.from(direction, (_, i) => i).sort((a, b) => Math.abs(direction[b]) - Math.abs(direction[a]));
  const largest = Math.abs(direction[order[0]]);
  const named = order.filter((i) => Math.abs(direction[i]) >= NAMED_SHARE * largest).slice(0, MOST_NAMED);
  const sign = Math.sign(direction[named[0]]) || 1;
  const parts = named.map((i) => ({ parameter: parameters[i], share: sign * direction[i] }));
  return {
    words: combinationWords(parts),
    shrink,
    parts: parts.map(({ parameter, share }) => ({ name: parameter.name, share })),
  };
}

/** `a`, `a and b`, `a, b and c` */
export function listed(names: readonly string[]): string {
  if (names.length < 2) return names.join('');
  return `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}

/** A combination in words, by what its parts have in common. */
export function combinationWords(
  parts: readonly { readonly parameter: Pick<FitParameter, 'id' | 'name' | 'group'>; readonly share: number }[],
): string {
  const names = parts.map(({ parameter }) => parameter.name);
  if (parts.length === 1) return names[0];
  const together = parts.filter(({ share }) => share > 0).map(({ parameter }) => parameter.name);
  const against = parts.filter(({ share }) => share <= 0).map(({ parameter }) => parameter.name);
  const groups = new Set(parts.map(({ parameter }) => parameter.group));
  const all = against.length === 0;
  if (all && groups.size === 1 && groups.has('resistance')) return `the sum of ${listed(names)}`;
  if (all && groups.size === 1 && groups.has('standing')) return `the sum of ${listed(names)}`;
  const ids = new Set(parts.map(({ parameter }) => parameter.id));
  for (const side of ['transmitter', 'receiver'] as const) {
    if (all && parts.length === 2 && ids.has(`${side}Capacitance`) && ids.has(`${side}Inductance`))
      return `the ${side}'s resonance (its capacitor times its inductance)`;
  }
  const couplings = new Set(['coupling', 'place']);
  if ([...groups].every((group) => couplings.has(group))) return `the coupling as a whole (${listed(names)})`;
  if (all) return `${listed(names)} together`;
  return `${listed(together)} against ${listed(against)}`;
}
