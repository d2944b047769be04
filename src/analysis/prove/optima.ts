import type { Optimum, RoughOptimum } from './optimum.ts';
import type { Posterior } from './posterior.ts';

/** Optima up to so much chi-square above the best are kept and widen the bands. */
export const CHI2_BAND = 9;
/** Of rough optima, the quick model's chi-square may mislead: somewhat more are looked at exactly. */
const ROUGH_BAND = 30;
const MOST_REFINED = 4;
/** Values closer than this, in prior standard deviations, are the same optimum. */
const SAME = 0.35;

export interface RoughCluster {
  readonly z: Float64Array;
  readonly chi2: number;
  readonly starts: number;
}

function distance(a: Float64Array, b: Float64Array): number {
  let most = 0;
  for (let j = 0; j < a.length; j++) most = Math.max(most, Math.abs(a[j] - b[j]));
  return most;
}

/**
 * The distinct ends of the searches, best first: those near the best, at most four. Two ends are the same where no value differs by more
 * than a third of a prior standard deviation, or where the way between them, tried at its middle, has no ridge.
 */
export function distinctOptima(roughs: readonly RoughOptimum[], chi2Of: (z: Float64Array) => number): RoughCluster[] {
  const sorted = roughs
    .filter(({ chi2 }) => Number.isFinite(chi2))
    .sort((a, b) => a.chi2 - b.chi2 || a.start - b.start);
  const clusters: { z: Float64Array; chi2: number; starts: number }[] = [];
  for (const rough of sorted) {
    const best = clusters[0]?.chi2 ?? rough.chi2;
    const known = clusters.find(({ z }) => distance(z, rough.z) < SAME || noRidge(z, rough.z, chi2Of));
    if (known !== undefined) known.starts++;
    else if (rough.chi2 - best < ROUGH_BAND) clusters.push({ z: rough.z, chi2: rough.chi2, starts: 1 });
  }
  return clusters.slice(0, MOST_REFINED);
}

/** Whether chi-square along the straight way between two points never rises above the higher end by more than a little. */
function noRidge(a: Float64Array, b: Float64Array, chi2Of: (z: Float64Array) => number): boolean {
  const higher = Math.max(chi2Of(a), chi2Of(b));
  for (const share of [0.25, 0.5, 0.75]) {
    const middle = a.map((value, j) => value + share * (b[j] - value));
    if (chi2Of(middle) > higher + 0.5) return false;
  }
  return true;
}

export interface KeptOptimum {
  readonly optimum: Optimum;
  readonly posterior: Posterior;
  readonly starts: number;
  /** Share of the probability, by chi-square and by the volume around it; they add to 1. */
  readonly weight: number;
}

/** Exact optima within the band of the best, with their weights; the same one found twice counts once. */
export function keptOptima(
  found: readonly { readonly optimum: Optimum; readonly posterior: Posterior; readonly starts: number }[],
): KeptOptimum[] {
  const sorted = [...found].sort((a, b) => a.optimum.chi2 - b.optimum.chi2);
  const kept: { optimum: Optimum; posterior: Posterior; starts: number }[] = [];
  for (const candidate of sorted) {
    if (candidate.optimum.chi2 - sorted[0].optimum.chi2 > CHI2_BAND) break;
    const known = kept.find(({ optimum }) => distance(optimum.z, candidate.optimum.z) < SAME);
    if (known === undefined) kept.push({ ...candidate });
    else known.starts += candidate.starts;
  }
  const logs = kept.map(({ optimum, posterior }) => -optimum.chi2 / 2 + posterior.logVolume);
  const top = Math.max(...logs);
  const shares = logs.map((log) => Math.exp(log - top));
  const total = shares.reduce((sum, share) => sum + share, 0);
  return kept.map((entry, k) => ({ ...entry, weight: shares[k] / total }));
}
