/** The safe region at the worst gap and turn, and its volume over the gap. */
import type { Design } from '../../design/types.ts';
import type { HoldLayer } from './hold-layer.ts';
import { safeVolume, worstSlack } from './region-sums.ts';
import { type Ring, ringArea } from './ring-geometry.ts';
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
  /** Holes and unsafe middles in words. */
  readonly notes: readonly string[];
}

/** Where one layer is safe. */
function layerRegion(design: Design, layer: HoldLayer): SafeRegion {
  const wanted = design.demand.wantedMarginPercent;
  return safeRegion(
    layer.xMm,
    layer.yMm,
    [
      { name: 'margin', slack: layer.marginPercent.map((v) => v - wanted), smooth: true },
      { name: 'waking', slack: layer.wakeSlackV, smooth: true },
    ],
    { restMm: restOf(design) },
  );
}

const restOf = (design: Design) => [design.placement.offsetXMm, design.placement.offsetYMm] as const;

/** The safe region at the design's own gap, from the unturned layer of use `turns`; null where there is none. */
export function regionHere(design: Design, layers: readonly HoldLayer[]): SafeRegion | null {
  const layer = layers.find((l) => l.use === 'turns' && l.yaw === 0);
  return layer ? layerRegion(design, layer) : null;
}

/** Report from the layers of use `worst` and `volume`; null where either is missing. */
export function regionReport(design: Design, layers: readonly HoldLayer[]): RegionReport | null {
  const worst = layers.filter((layer) => layer.use === 'worst');
  const volume = layers.filter((layer) => layer.use === 'volume').sort((a, b) => a.gapMm - b.gapMm);
  const first = worst[0];
  if (!first || volume.length === 0) return null;
  const wanted = design.demand.wantedMarginPercent;
  const region = safeRegion(
    first.xMm,
    first.yMm,
    [
      {
        name: 'margin',
        slack: worstSlack(worst.map((layer) => layer.marginPercent.map((v) => v - wanted))),
        smooth: true,
      },
      { name: 'waking', slack: worstSlack(worst.map((layer) => layer.wakeSlackV)), smooth: true },
    ],
    { restMm: restOf(design) },
  );
  const regions = volume.map((layer) => layerRegion(design, layer));
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
    notes: holesInWords(region, 'At the worst gap and turn'),
  };
}

/** Holes of a safe region, its pieces and an unsafe resting place, in words; nothing where there are none. */
export function holesInWords(region: SafeRegion, where: string): string[] {
  const words: string[] = [];
  const holes = region.outline.filter((ring) => ringArea(ring) < 0);
  const pieces = region.outline.length - holes.length;
  if (pieces === 0) words.push(`${where} nowhere is safe.`);
  else if (!region.restIsSafe)
    words.push(
      `${where} the resting place itself is not safe; the nearest safe offset is ${region.inner.nearestMm.toFixed(1)} mm away.`,
    );
  if (pieces > 1) words.push(`${where} the safe region falls into ${pieces} pieces.`);
  for (const hole of holes) {
    const { x, y, acrossMm } = middleOf(hole);
    words.push(
      `${where} the safe region has a hole about ${acrossMm.toFixed(1)} mm across at (${x.toFixed(1)}, ${y.toFixed(1)}) mm.`,
    );
  }
  return words;
}

/** Middle of a ring's box and the diameter of a circle of its area, mm. */
function middleOf(ring: Ring): { readonly x: number; readonly y: number; readonly acrossMm: number } {
  let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let k = 0; k < ring.length; k += 2) {
    left = Math.min(left, ring[k]);
    right = Math.max(right, ring[k]);
    low = Math.min(low, ring[k + 1]);
    high = Math.max(high, ring[k + 1]);
  }
  return { x: (left + right) / 2, y: (low + high) / 2, acrossMm: 2 * Math.sqrt(Math.abs(ringArea(ring)) / Math.PI) };
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
