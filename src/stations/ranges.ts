import type { ResolvedDesign } from '../state/resolved-design.ts';

/** Round upwards in steps, so that a range does not breathe with every small move. */
function up(value: number, step: number): number {
  return Math.ceil(value / step) * step;
}

/** Half-width of the offset map, mm: both coils whole, and as far as one may drag the other. */
export function mapSpan({ transmitter, receiver, design }: ResolvedDesign): number {
  const reach = Math.max(transmitter.halfWidth, transmitter.halfHeight, receiver.halfWidth, receiver.halfHeight) * 1000;
  const off = Math.hypot(design.placement.offsetXMm, design.placement.offsetYMm);
  return up(Math.max(1.45 * reach, off * 1.2), 4);
}

/** Upper end of the gap axis, mm. */
export function gapSweepEnd(gapMm: number): number {
  return up(Math.max(16, 2.2 * gapMm), 4);
}

/** Upper end of the offset axis, mm: the lines need less room than the map, which shows the coils whole. */
export function offsetSweepEnd(resolved: ResolvedDesign): number {
  const { transmitter, receiver, design } = resolved;
  const reach = Math.min(transmitter.halfWidth, receiver.halfWidth) * 1000;
  return up(Math.max(reach, Math.abs(design.placement.offsetXMm) * 1.2, Math.abs(design.placement.offsetYMm) * 1.2), 4);
}
