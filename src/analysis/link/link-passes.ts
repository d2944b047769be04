import type { PlateLevel } from './plates.ts';

/** One pass of solves: a tensor grid of poses at one level of the plates' grids. */
export interface LinkPass {
  readonly level: PlateLevel | 'correction';
  readonly counts: readonly [number, number, number];
}

/**
 * The pass of a first model, for the map's and the lines' first look: rough grids on a third of the places.
 */
export const ROUGH_PASS = Object.freeze<LinkPass>({ level: 'rough', counts: [4, 4, 5] });

/** The passes of a full model: the coarse grids everywhere, then what the fine ones add, which is smoother still. */
export const LINK_PASSES: readonly LinkPass[] = Object.freeze([
  { level: 'coarse', counts: [6, 6, 6] },
  { level: 'correction', counts: [4, 4, 4] },
]);

/**
 * Rows of a pass in the order of their gaps, least first: a worker that takes neighbours in this order works out the
 * plates' answers for few gaps.
 */
export function byGap(pass: LinkPass, count: number): Int32Array {
  const gaps = pass.counts[2];
  const sites = count / gaps;
  return Int32Array.from({ length: count }, (_, index) => (index % sites) * gaps + Math.floor(index / sites));
}
