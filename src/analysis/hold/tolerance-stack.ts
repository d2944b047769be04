/** Gap stacks with tolerances, and which gaps keep the margin. */
import type { StackLayerDocument } from '../../design/types.ts';
import { bracketedRoot } from '../../numerics/bracketed-root.ts';
import { InputError } from '../../numerics/errors.ts';

/** Thickness of a stack of layers, mm. */
export interface StackThickness {
  readonly nominalMm: number;
  /** All tolerances at the same end. */
  readonly worst: { readonly thinnestMm: number; readonly thickestMm: number };
  /** Root of the sum of squares: what independent layers rarely exceed. */
  readonly rss: { readonly thinnestMm: number; readonly thickestMm: number };
  /** Share of each layer in the rss variance, largest first. */
  readonly shares: readonly { readonly name: string; readonly share: number }[];
}

/**
 * Worst-case and rss thickness of a stack. A worst case thinner than nothing is held at zero.
 * @throws InputError for a negative thickness or tolerance.
 */
export function stackThickness(layers: readonly StackLayerDocument[]): StackThickness {
  let nominal = 0;
  let linear = 0;
  let squares = 0;
  layers.forEach((layer, index) => {
    for (const key of ['thicknessMm', 'toleranceMm'] as const)
      if (!(layer[key] >= 0))
        throw new InputError({
          code: 'stack-layer',
          path: `stack[${index}].${key}`,
          required: 'a length >= 0 mm',
          received: `${layer[key]} mm`,
        });
    nominal += layer.thicknessMm;
    linear += layer.toleranceMm;
    squares += layer.toleranceMm ** 2;
  });
  const rss = Math.sqrt(squares);
  return {
    nominalMm: nominal,
    worst: { thinnestMm: Math.max(0, nominal - linear), thickestMm: nominal + linear },
    rss: { thinnestMm: Math.max(0, nominal - rss), thickestMm: nominal + rss },
    shares: layers
      .map((layer) => ({ name: layer.name, share: squares > 0 ? layer.toleranceMm ** 2 / squares : 0 }))
      .sort((a, b) => b.share - a.share),
  };
}

export interface GapInterval {
  readonly fromMm: number;
  readonly toMm: number;
}

export interface GapLimits {
  /** All intervals in which the margin is at least the wanted one, ascending, mm. */
  readonly intervals: readonly GapInterval[];
  /** Ends of the interval that holds the nominal gap, mm; null where the nominal gap does not keep the margin. */
  readonly thinnestMm: number | null;
  readonly thickestMm: number | null;
  /** True where the search range ended before the margin did. */
  readonly thinnestIsSearchEnd: boolean;
  readonly thickestIsSearchEnd: boolean;
  readonly evaluations: number;
}

export interface GapSearch {
  readonly fromMm: number;
  readonly toMm: number;
  /** Samples between which the margin is taken to change sign at most once. */
  readonly samples: number;
  readonly endToleranceMm: number;
  readonly marginTolerance: number;
}

export const GAP_SEARCH_DEFAULTS: GapSearch = Object.freeze({
  fromMm: 0.2,
  toMm: 40,
  samples: 24,
  endToleranceMm: 1e-4,
  marginTolerance: 0,
});

/**
 * Thinnest and thickest stack that keep the wanted margin. The margin need not fall with the gap: a receiver can be overfed
 * when too near, and two coils too close detune each other.
 * @param marginAtGap percent at a gap in mm; NaN and -Infinity count as no margin. @param nominalMm gap of the design.
 * @returns ends to `endToleranceMm`, or where the margin is within `marginTolerance` (percent points) of the wanted one.
 */
export function gapLimits(
  marginAtGap: (gapMm: number) => number,
  wantedPercent: number,
  nominalMm: number,
  search: Partial<GapSearch> = {},
): GapLimits {
  const range = { ...GAP_SEARCH_DEFAULTS, ...search };
  const from = Math.min(range.fromMm, nominalMm);
  const to = Math.max(range.toMm, nominalMm);
  let evaluations = 0;
  const over = (gap: number) => {
    evaluations += 1;
    const margin = marginAtGap(gap);
    return Number.isNaN(margin) ? -1e3 : Math.max(-1e3, Math.min(1e6, margin - wantedPercent));
  };
  // Samples even in the logarithm, with the nominal gap among them.
  const gaps = Array.from({ length: range.samples }, (_, i) => from * (to / from) ** (i / (range.samples - 1)));
  gaps.push(nominalMm);
  gaps.sort((a, b) => a - b);
  const values = gaps.map(over);
  const root = (a: number) =>
    bracketedRoot(over, gaps[a]!, gaps[a + 1]!, values[a]!, values[a + 1]!, {
      xTolerance: range.endToleranceMm,
      fTolerance: range.marginTolerance,
    }).value;
  const intervals: GapInterval[] = [];
  let start: number | null = values[0]! >= 0 ? gaps[0]! : null;
  for (let i = 0; i + 1 < gaps.length; i += 1) {
    if (values[i]! >= 0 === values[i + 1]! >= 0 || gaps[i + 1] === gaps[i]) continue;
    const edge = root(i);
    if (start === null) start = edge;
    else {
      intervals.push({ fromMm: start, toMm: edge });
      start = null;
    }
  }
  if (start !== null) intervals.push({ fromMm: start, toMm: gaps[gaps.length - 1]! });
  const nominalHolds = values[gaps.indexOf(nominalMm)]! >= 0;
  const home = nominalHolds
    ? intervals.find((interval) => interval.fromMm <= nominalMm && nominalMm <= interval.toMm)
    : undefined;
  return {
    intervals,
    thinnestMm: home ? home.fromMm : null,
    thickestMm: home ? home.toMm : null,
    thinnestIsSearchEnd: home !== undefined && home.fromMm === gaps[0],
    thickestIsSearchEnd: home !== undefined && home.toMm === gaps[gaps.length - 1],
    evaluations,
  };
}
