import { discMeanDistance, logRectangleMeanDistance } from './mean-distance.ts';
import type { Conductor } from './types.ts';

/** The part of a conductor's section that carries current, as inductance formulas need it, metres. */
export type CrossSection = {
  /** Geometric mean distance of the section from itself. */
  readonly meanDistance: number;
  /** What stands for the section's arithmetic mean distance from itself where a straight run ends, m. */
  readonly endDistance: number;
  /** Half the largest dimension. */
  readonly size: number;
} & (
  | { readonly kind: 'round'; readonly radius: number; readonly internalShare: number }
  | { readonly kind: 'strip'; readonly width: number; readonly thickness: number }
);

/** Litz carries an even current over its bundle; solid wire over its copper, with a share of its internal inductance. */
export function crossSectionOf(conductor: Conductor, internalShare: number): CrossSection {
  if (conductor.kind === 'trace') {
    const { width, thickness } = conductor;
    return {
      kind: 'strip',
      width,
      thickness,
      size: Math.max(width, thickness) / 2,
      meanDistance: Math.exp(logRectangleMeanDistance(width, thickness)),
      // Mean distance inside a line, a third of its length, grows towards 0.521 of the side for a square.
      endDistance: Math.max(width, thickness) / 3 + 0.188 * Math.min(width, thickness),
    };
  }
  const radius = (conductor.kind === 'litz' ? conductor.bundleDiameter : conductor.diameter) / 2;
  return {
    kind: 'round',
    radius,
    internalShare,
    size: radius,
    meanDistance: discMeanDistance(radius, internalShare),
    // Rosa's straight wire has the radius here; the exact mean over two discs is 0.905 of it. What really happens in a
    // sharp corner depends on how it is bent, so the handbook value stands and the difference counts as error.
    endDistance: radius,
  };
}

/** What a right-angled corner adds to the double integral with the softened kernel, m. */
export function cornerAddition(section: CrossSection): number {
  return 2 * (section.endDistance - section.meanDistance);
}

/** How far that may be off, m: the difference between a disc's radius and its arithmetic mean distance, twice. */
export function cornerDoubt(section: CrossSection): number {
  return 0.19 * section.endDistance;
}
