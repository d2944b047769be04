import type { CoilOutline, Winding } from './types.ts';

/** Outlines that are their own images under x -> -x and under y -> -y; a path may be anything. */
const MIRRORED: Readonly<Record<CoilOutline['shape'], boolean>> = Object.freeze({
  circle: true,
  roundedRectangle: true,
  stadium: true,
  path: false,
});

/**
 * Whether a winding is its own image under x -> -x and under y -> -y: then a quarter of it stands for all, and offsets to
 * both sides are alike. A spiral is not, whatever its outline.
 */
export function isMirrored({ spec }: Pick<Winding, 'spec'>): boolean {
  return spec.winding === 'rings' && MIRRORED[spec.outline.shape];
}
