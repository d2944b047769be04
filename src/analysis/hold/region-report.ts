/** The safe region at the worst gap and turn, and its volume over the gap. */
import type { Design } from '../../design/types.ts';
import type { Uncertain } from '../types.ts';
import type { HoldLayer } from './hold-layer.ts';
import { safeVolume, worstSlack } from './region-sums.ts';
import { type Ring, ringArea } from './ring-geometry.ts';
import { type SafeRegion, safeRegion } from './safe-region.ts';

/** What direct solutions at allowed places between the corners found. */
export interface WorstCheck {
  readonly places: number;
  /** Largest amount by which a direct margin fell below the worst map's, percent points; 0 where none did. */
  readonly shortfallPercent: number;
}

export interface RegionReport {
  /** Region that is safe at every gap, turn and tilt that stack and recess allow. */
  readonly worst: SafeRegion;
  /** Its reach, mm, with the band of model and tolerances and what the check found missing; no band for a first look. */
  readonly reachMm: Uncertain;
  readonly worstGapsMm: readonly number[];
  readonly worstTurns: readonly number[];
  /** Largest tilts about x and about y, rad. */
  readonly worstTilts: readonly [number, number];
  /** Direct solutions at allowed places between the corners; null: not asked. */
  readonly check: WorstCheck | null;
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

/** The worst of several layers, point by point. */
interface WorstFields {
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  /** Least margin, percent. */
  readonly margin: Float64Array;
  /** Its band; null where a layer has none. */
  readonly low: Float64Array | null;
  readonly high: Float64Array | null;
  readonly wake: Float64Array;
}

function worstOf(layers: readonly HoldLayer[]): WorstFields | null {
  const first = layers[0];
  if (!first) return null;
  const band = (pick: (layer: HoldLayer) => Float64Array | null): Float64Array | null => {
    const fields = layers.map(pick);
    return fields.every((field) => field !== null) ? worstSlack(fields) : null;
  };
  return {
    xMm: first.xMm,
    yMm: first.yMm,
    margin: worstSlack(layers.map((layer) => layer.marginPercent)),
    low: band((layer) => layer.lowPercent),
    high: band((layer) => layer.highPercent),
    wake: worstSlack(layers.map((layer) => layer.wakeSlackV)),
  };
}

const restOf = (design: Design) => [design.placement.offsetXMm, design.placement.offsetYMm] as const;

function regionOf(design: Design, fields: WorstFields, margin: Float64Array): SafeRegion {
  const wanted = design.demand.wantedMarginPercent;
  return safeRegion(
    fields.xMm,
    fields.yMm,
    [
      { name: 'margin', slack: margin.map((v) => v - wanted), smooth: true },
      { name: 'waking', slack: fields.wake, smooth: true },
    ],
    { restMm: restOf(design) },
  );
}

/** Reach where every margin lies at the low end of its band, as it is, and at the high end. */
function reachBand(design: Design, fields: WorstFields, value: number, missing: number): Uncertain {
  const { low, high } = fields;
  if (!low || !high) return { value, low: value, high: value };
  const at = (field: Float64Array) => regionOf(design, fields, field).reachMm;
  return {
    value,
    low: Math.min(value, at(low.map((v) => v - missing))),
    high: Math.max(value, at(high)),
  };
}

/** A safe region with the band of its reach, mm. */
export interface BandedRegion {
  readonly region: SafeRegion;
  readonly reachMm: Uncertain;
}

/** The safe region at the design's own gap, from the unturned layer of use `turns`; null where there is none. */
export function regionHere(design: Design, layers: readonly HoldLayer[]): BandedRegion | null {
  const fields = worstOf(layers.filter((l) => l.use === 'turns' && l.yaw === 0));
  if (!fields) return null;
  const region = regionOf(design, fields, fields.margin);
  return { region, reachMm: reachBand(design, fields, region.reachMm, 0) };
}

/** The worst region and the margin it rests on, from the layers of use `worst`; null without them. */
export function worstRegion(
  design: Design,
  layers: readonly HoldLayer[],
): (WorstFields & { readonly region: SafeRegion }) | null {
  const fields = worstOf(layers.filter((layer) => layer.use === 'worst'));
  return fields && { ...fields, region: regionOf(design, fields, fields.margin) };
}

/** Report from the layers of use `worst` and `volume`; null where either is missing. @param check of the worst region */
export function regionReport(
  design: Design,
  layers: readonly HoldLayer[],
  check: WorstCheck | null = null,
): RegionReport | null {
  const worst = layers.filter((layer) => layer.use === 'worst');
  const volume = layers.filter((layer) => layer.use === 'volume').sort((a, b) => a.gapMm - b.gapMm);
  const fields = worstRegion(design, layers);
  if (!fields || volume.length === 0) return null;
  const { region } = fields;
  const regions = volume.map((layer) => {
    const own = worstOf([layer])!;
    return regionOf(design, own, own.margin);
  });
  const gapsMm = Float64Array.from(volume, (layer) => layer.gapMm);
  const areasMm2 = Float64Array.from(regions, (r) => r.areaMm2);
  const distinct = (values: readonly number[]) => [...new Set(values)].sort((a, b) => a - b);
  const most = (pick: (layer: HoldLayer) => number) =>
    worst.reduce((m, layer) => Math.max(m, Math.abs(pick(layer))), 0);
  return {
    worst: region,
    reachMm: reachBand(design, fields, region.reachMm, check?.shortfallPercent ?? 0),
    worstGapsMm: distinct(worst.map((layer) => layer.gapMm)),
    worstTurns: distinct(worst.map((layer) => layer.yaw)),
    worstTilts: [most((layer) => layer.tiltX), most((layer) => layer.tiltY)],
    check,
    gapsMm,
    areasMm2,
    reachesMm: Float64Array.from(regions, (r) => r.reachMm),
    volumeMm3: safeVolume(gapsMm, areasMm2),
    cutOff: regions.some((r, k) => touches(r.outline, volume[k])),
    notes: holesInWords(region, 'At the worst gap, turn and tilt'),
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
