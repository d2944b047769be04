import type { GridChange } from './types.ts';

/**
 * Least relative error claimed for k, and its share of the largest relative error of L1, L2 and M, which leave it alone where
 * they go together: with two grids, with metal, with one grid alone.
 */
const FLOOR_COUPLING = 3e-4;
export const COUPLING_SHARE = 0.15;
export const COUPLING_SHARE_METAL = 0.6;
export const COUPLING_SHARE_SINGLE = 0.6;
/** Below the first the relative error of k counts from there; towards none, errors of M go on into k as they are. */
const LEAST_COUPLING = 0.05;
const LOOSE_COUPLING = 0.15;

/**
 * Coupling factor with plates and its numerical error. Errors of L and M go together, so k is far better than they are:
 * its error is the step of the extrapolation in k itself, or a share of the largest relative error of L1, L2 and M.
 *
 * @param change its `couplingShare` where known; without it the largest is taken
 * @param air inductances without plates, H
 */
export function couplingWithError(
  change: GridChange & { readonly errors: GridChange; readonly grid: GridChange; readonly couplingShare?: number },
  air: { readonly l1: number; readonly l2: number; readonly mutual: number },
): { readonly value: number; readonly error: number } {
  const k = (c: GridChange) => (air.mutual + c.dM) / Math.sqrt((air.l1 + c.dL1) * (air.l2 + c.dL2));
  const value = k(change);
  const relative = Math.max(
    change.errors.dL1 / (air.l1 + change.dL1),
    change.errors.dL2 / (air.l2 + change.dL2),
    change.errors.dM / Math.max(Math.abs(air.mutual + change.dM), LEAST_COUPLING * Math.sqrt(air.l1 * air.l2)),
  );
  const share = change.couplingShare ?? COUPLING_SHARE_SINGLE;
  const loose = Math.max(0, 1 - Math.abs(value) / LOOSE_COUPLING);
  const size = Math.max(Math.abs(value), LEAST_COUPLING);
  return {
    value,
    error: Math.max(
      Math.abs(value - k(change.grid)),
      ((share + (1 - share) * loose) * relative + FLOOR_COUPLING) * size,
    ),
  };
}
