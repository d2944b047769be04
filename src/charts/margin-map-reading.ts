import type { OffsetMap } from '../analysis/types.ts';
import { valueAt } from './contours.ts';
import { arrowStep, rounded } from './drag.ts';
import type { MapFrame } from './map-frame.ts';
import type { MarginShapes } from './margin-shapes.ts';
import { plain, signedPercent, withUnit } from './tick-text.ts';

export interface CrosshairDetail {
  readonly xMm: number;
  readonly yMm: number;
}

/** What the map says at a point, in one line. */
export function mapReading(map: OffsetMap | null, shapes: MarginShapes | null, { xMm, yMm }: CrosshairDetail): string {
  const place = `x ${plain(xMm)}, y ${withUnit(yMm, 'mm')}`;
  if (!map || !shapes) return place;
  const margin = valueAt(shapes.grid, xMm, yMm);
  if (!Number.isFinite(margin)) return `${place}: not computed`;
  const at = (values: Float64Array): number => valueAt({ xMm: map.xMm, yMm: map.yMm, values }, xMm, yMm);
  const verdict = margin < 0 ? 'collapses' : signedPercent(margin);
  return `${place}: ${verdict}, ${withUnit(at(map.maxOutputA), 'A', 2)}, k ${plain(at(map.coupling), 3)}`;
}

/** The map as one sentence. */
export function mapDescription(map: OffsetMap | null, hereText: string): string {
  if (!map) return 'Map of power margin over sideways offset: not computed yet.';
  return `Map of power margin over sideways offset at a gap of ${withUnit(map.gapMm, 'mm')}: safe within ${withUnit(map.reachMm.value, 'mm')} of the axis; here ${hereText}.`;
}

/** Where a key takes the reading point, within the frame; null for a key that is not one of its own. */
export function readingStep(
  event: KeyboardEvent,
  from: CrosshairDetail | null,
  frame: MapFrame,
): CrosshairDetail | null {
  const step = arrowStep(event, 1, 0.1, 5);
  if (!step) return null;
  event.preventDefault();
  const limit = (value: number, half: number): number => rounded(Math.min(Math.max(value, -half), half), 0.1);
  return {
    xMm: limit((from?.xMm ?? 0) + step[0], frame.halfXMm),
    yMm: limit((from?.yMm ?? 0) + step[1], frame.halfYMm),
  };
}
