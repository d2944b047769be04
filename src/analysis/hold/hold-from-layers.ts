/** The hold report from computed layers: one call for a worker. */
import type { Design } from '../../design/types.ts';
import { linkContext } from '../link/link-context.ts';
import type { LinkModel } from '../link/link-model.ts';
import type { PlateSensitivity } from '../margin/plate-sensitivity.ts';
import type { HoldLayer } from './hold-layer.ts';
import { directMargin, gapMargin, marginBand, marginsFromLayers } from './hold-margins.ts';
import { type HoldReport, holdReport } from './hold-report.ts';
import type { LotteryOptions } from './lottery-report.ts';
import type { MagnetReportOptions } from './magnet-report.ts';
import { regionReport } from './region-report.ts';
import type { Ring } from './ring-geometry.ts';

export interface HoldInputs {
  readonly design: Design;
  /** Link model at the design's attitude. */
  readonly model: LinkModel;
  readonly plates: readonly PlateSensitivity[];
  /** All layers of `layerPlans(design)`, computed by `holdLayer`. */
  readonly layers: readonly HoldLayer[];
  /** Safe outline of the map at the design's gap, mm; null: none. */
  readonly safeOutline: readonly Ring[] | null;
  readonly coilField: MagnetReportOptions['coilField'];
  readonly lottery: Partial<LotteryOptions>;
  /** Solve the recommended recess's worst placement directly (a few seconds). */
  readonly direct: boolean;
}

/** Everything `hold --json` prints, by the link model, with direct solutions where they count. */
export function holdFromLayers(inputs: HoldInputs, onProgress: (share: number) => void = () => {}): HoldReport {
  const { design, model, plates, layers } = inputs;
  const context = linkContext(design);
  const { marginAt, conditions } = marginsFromLayers(design, layers);
  const { offsetXMm, offsetYMm, yawDeg } = design.placement;
  // Mirror images about the resting place are equal only where it lies on the coils' own axes.
  const straight = yawDeg === 0;
  const spanMm = Math.min(model.domain.halfX, model.domain.halfY) * 1e3;
  return holdReport(design, {
    marginAt,
    conditions,
    directMarginAt: inputs.direct ? directMargin(design) : null,
    mirrored: { x: straight && model.even.x && offsetXMm === 0, y: straight && model.even.y && offsetYMm === 0 },
    bandAt: marginBand(design, model, plates),
    marginAtGap: gapMargin(design, model),
    gapRangeMm: [model.domain.gapMin * 1e3, model.domain.gapMax * 1e3],
    magnets: {
      sides: { transmitter: context.transmitter, receiver: context.receiver },
      safeOutline: inputs.safeOutline,
      coilField: inputs.coilField,
      onProgress,
    },
    lottery: inputs.lottery,
    mostClearanceMm: Math.max(0.5, (spanMm - Math.hypot(offsetXMm, offsetYMm)) / 1.5),
    region: regionReport(design, layers),
  });
}
