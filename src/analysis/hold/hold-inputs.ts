/** What the parts of the hold report are worked out from. */
import type { Design } from '../../design/types.ts';
import type { LinkModel } from '../link/link-model.ts';
import type { PlateSensitivity } from '../margin/plate-sensitivity.ts';
import type { HoldLayer } from './hold-layer.ts';
import { marginBand } from './hold-margins.ts';

export interface HoldInputs {
  readonly design: Design;
  /** Link model at the design's attitude. */
  readonly model: LinkModel;
  readonly plates: readonly PlateSensitivity[];
  /** All layers of `layerPlans(design)`, computed by `holdLayer`; those of use `turns` suffice for a first answer. */
  readonly layers: readonly HoldLayer[];
}

/** Largest clearance looked at, mm: the model's box, with room for the tolerances and the turned device. */
export function mostClearance({ design, model }: HoldInputs): number {
  const spanMm = Math.min(model.domain.halfX, model.domain.halfY) * 1e3;
  return Math.max(0.5, (spanMm - Math.hypot(design.placement.offsetXMm, design.placement.offsetYMm)) / 1.5);
}

/** Margin with its band at a placement. */
export function bandFor({ design, model, plates }: HoldInputs): ReturnType<typeof marginBand> {
  return marginBand(design, model, plates);
}
