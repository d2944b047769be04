/** The safe region at the worst gap and turn, and its volume over the gap. */
import type { Design } from '../../design/types.ts';
import type { HoldLayer } from './hold-layer.ts';
import { safeVolume, worstSlack } from './region-sums.ts';
import type { Ring } from './ring-geometry.ts';
import { type SafeRegion, safeRegion } from './safe-region.ts';

export interface RegionReport {
  /** Region that is safe at every gap of the worst-case stack and every turn of the recess. */
  readonly worst: SafeRegion;
  readonly worstGapsMm: readonly number[];
  readonly worstTurns: readonly number[];
  /** Safe area against the gap at no turn, and the volume under that curve. */
  readonly gapsMm: Float64Array;
  readonly areasMm2: Float64Array;
  readonly reachesMm: Float64Array;
  readonly volumeMm3: number;
  /** Some area is cut off by the map's edge: area and volume are at least these. */
  readonly cutOff: boolean;
}

/** Report from the layers of use `worst` and `volume`; null where either is missing. */
export function regionReport(design: Design, layers: readonly HoldLayer[]): RegionReport | null {
  const worst = layers.filter((layer) => layer.use === 'worst');
  const volume = layers.filter((layer) => layer.use === 'volume').sort((a, b) => a.gapMm - b.gapMm);
  const first = worst[0];
  if (!first || volume.length === 0) return null;
  const wanted = design.demand.wantedMarginPercent;
  const restMm = [design.placement.offsetXMm, design.placement.offsetYMm] as const;
  const margin = (layer: HoldLayer) => layer.marginPercent.map((v) => v - wanted);
  const region = safeRegion(
    first.xMm,
    first.yMm,
    [
      { name: 'margin', slack: worstSlack(worst.map(margin)), smooth: true },
      { name: 'waking', slack: worstSlack(worst.map((layer) => layer.wakeSlackV)), smooth: true },
    ],
    { restMm },
  );
  const regions = volume.map((layer) =>
    safeRegion(
      layer.xMm,
      layer.yMm,
      [
        { name: 'margin', slack: margin(layer), smooth: true },
        { name: 'waking', slack: layer.wakeSlackV, smooth: true },
      ],
      { restMm },
    ),
  );
  const gapsMm = Float64Array.from(volume, (layer) => layer.gapMm);
  const areasMm2 = Float64Array.from(regions, (r) => r.areaMm2);
  return {
    worst: region,
    worstGapsMm: [...new Set(worst.map((layer) => layer.gapMm))].sort((a, b) => a - b),
    worstTurns: [...new Set(worst.map((layer) => layer.yaw))].sort((a, b) => a - b),
    gapsMm,
    areasMm2,
    reachesMm: Float64Array.from(regions, (r) => r.reachMm),
    volumeMm3: safeVolume(gapsMm, areasMm2),
    cutOff: regions.some((r, k) => touches(r.outline, volume[k])),
  };
}

function touches(rings: readonly Ring[], layer: HoldLayer): boolean {
  const right = layer.xMm[layer.xMm.length - 1];
  const top = layer.yMm[layer.yMm.length - 1];
  return rings.some((ring) => {
    for (let k = 0; k < ring.length; k += 2)
      if (Math.abs(ring[k]) >= right - 1e-9 || Math.abs(ring[k + 1]) >= top - 1e-9) return true;
    return false;
  });
}
