/** Thinnest and thickest stack in steps short enough to be stopped between. */
import type { Design } from '../../design/types.ts';
import { type GapLimits, gapLimits } from './tolerance-stack.ts';

/** Exact margins cost tenths of a second: ends to 2 um, as fine as any stack is known, or a hundredth of a point. */
const GAP_SEARCH = Object.freeze({ samples: 18, endToleranceMm: 2e-3, marginTolerance: 0.01 });

/** Thinnest and thickest stack that keep the wanted margin at home. @param rangeMm gaps that may be asked; null: the default. */
export function keptGaps(
  design: Design,
  marginAtGap: (gapMm: number) => number,
  rangeMm: readonly [number, number] | null,
): GapLimits {
  return gapLimits(marginAtGap, design.demand.wantedMarginPercent, design.placement.gapMm, {
    ...(rangeMm ? { fromMm: rangeMm[0], toMm: rangeMm[1] } : {}),
    ...GAP_SEARCH,
  });
}

/** Gaps whose margin is needed next, mm, or the answer. */
export type GapStep =
  | { readonly kind: 'solve'; readonly gapsMm: readonly number[] }
  | { readonly kind: 'kept'; readonly limits: GapLimits };

class Unknown extends Error {
  constructor(readonly gapMm: number) {
    super();
  }
}

/**
 * The search repeated with what is known so far; it costs next to nothing beside the margins themselves.
 * @param known margin in percent by gap in mm
 */
export function gapStep(
  design: Design,
  rangeMm: readonly [number, number],
  known: ReadonlyMap<number, number>,
): GapStep {
  if (known.size === 0) {
    const gapsMm = new Set<number>();
    // Equal everywhere: nothing is searched between the samples.
    const equal = (gapMm: number): number => {
      gapsMm.add(gapMm);
      return 0;
    };
    keptGaps(design, equal, rangeMm);
    return { kind: 'solve', gapsMm: [...gapsMm] };
  }
  try {
    const at = (gapMm: number): number => {
      const margin = known.get(gapMm);
      if (margin === undefined) throw new Unknown(gapMm);
      return margin;
    };
    return { kind: 'kept', limits: keptGaps(design, at, rangeMm) };
  } catch (error) {
    if (error instanceof Unknown) return { kind: 'solve', gapsMm: [error.gapMm] };
    throw error;
  }
}
