import type { Design } from '../../design/types.ts';

/** A further gap worth reading at, mm: half as much again, at least 2 mm more. */
export function furtherGapMm(design: Design): number {
  const { gapMm } = design.placement;
  return Number((gapMm + Math.max(2, 0.5 * gapMm)).toFixed(1));
}
