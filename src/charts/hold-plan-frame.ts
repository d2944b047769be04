import type { Box } from './place-labels.ts';

/** A rounded rectangle about its own centre, mm; a circle has both halves equal to its corner radius. */
export interface PlanOutline {
  readonly halfWidthMm: number;
  readonly halfHeightMm: number;
  readonly cornerRadiusMm: number;
}

/** What the plan shows. Millimetres; rings and outlines flat x y. */
export interface HoldPlanData {
  /** Where the device's centre is meant to lie, from the transmitter's axis. */
  readonly restMm: readonly [number, number];
  readonly yawDeg: number;
  readonly transmitterMm: Float64Array;
  /** About the receiver's own centre. */
  readonly receiverMm: Float64Array;
  readonly device: PlanOutline;
  readonly pocket: PlanOutline | null;
  /** How far the device's centre may go in the pocket, unturned. */
  readonly playMm: { readonly halfXMm: number; readonly halfYMm: number } | null;
  /** Safe at the design's gap, and at the worst gap and turn; about the transmitter's axis. */
  readonly safe: readonly Float64Array[];
  readonly safeAtWorst: readonly Float64Array[];
  readonly magnets: { readonly positionsMm: readonly (readonly [number, number])[]; readonly radiusMm: number } | null;
  /** About the resting place; null: none. */
  readonly captureMm: Float64Array | null;
  readonly restBandMm: Float64Array | null;
  /** Casual placements about the resting place, and where each began. */
  readonly placements: PlanPlacements | null;
  readonly began: { readonly xMm: Float64Array; readonly yMm: Float64Array } | null;
}

export interface PlanPlacements {
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  /** 1: works there. */
  readonly works: Uint8Array;
}

export type PlanZoom = 'device' | 'middle';

/** True aspect, y up; the middle of the plot is the resting place. */
export interface PlanFrame {
  readonly width: number;
  readonly height: number;
  readonly plot: Box;
  readonly pxPerMm: number;
  readonly narrow: boolean;
  readonly halfXMm: number;
  readonly halfYMm: number;
  readonly x: (mm: number) => number;
  readonly y: (mm: number) => number;
  readonly toMm: (x: number, y: number) => [number, number];
}

const NARROW = 520;

/** Half-extents about the resting place that the plan must show, mm, rounded up so that the scale does not breathe. */
export function planExtents(
  data: HoldPlanData,
  zoom: PlanZoom,
): { readonly halfXMm: number; readonly halfYMm: number } {
  const up = (value: number, step: number) => Math.ceil(value / step) * step;
  if (zoom === 'device') {
    const outline = data.pocket ?? data.device;
    let x = outline.halfWidthMm;
    let y = outline.halfHeightMm;
    for (const [mx, my] of data.magnets?.positionsMm ?? []) {
      x = Math.max(x, Math.abs(mx) + (data.magnets?.radiusMm ?? 0));
      y = Math.max(y, Math.abs(my) + (data.magnets?.radiusMm ?? 0));
    }
    return { halfXMm: up(x + 2, 2), halfYMm: up(y + 2, 2) };
  }
  let reach = 2;
  const add = (points: Float64Array | null, share = 1) => {
    for (let k = 0; points && k < points.length; k += 2)
      reach = Math.max(reach, share * Math.hypot(points[k], points[k + 1]));
  };
  add(data.captureMm);
  add(data.restBandMm);
  for (const ring of data.safe) add(ring.map((v, k) => v - data.restMm[k % 2 === 0 ? 0 : 1]));
  if (data.playMm) reach = Math.max(reach, data.playMm.halfXMm, data.playMm.halfYMm);
  const { began } = data;
  if (began) {
    let sum = 0;
    for (let k = 0; k < began.xMm.length; k += 1) sum += began.xMm[k] ** 2 + began.yMm[k] ** 2;
    reach = Math.max(reach, Math.min(2 * Math.sqrt(sum / Math.max(1, began.xMm.length)), 2.5 * reach));
  }
  const half = up(1.12 * reach, 1);
  return { halfXMm: half, halfYMm: half };
}

/** Lays out a plan of at least the given half-extents about the resting place in `width` px, at most `tallest` high. */
export function planFrame(
  data: Pick<HoldPlanData, 'restMm'>,
  width: number,
  halfXMm: number,
  halfYMm: number,
  tallest: number,
): PlanFrame {
  const narrow = width < NARROW;
  const left = narrow ? 28 : 84;
  const bottom = narrow ? 66 : 54;
  const plotWidth = Math.max(40, width - left - (narrow ? 12 : 6));
  const scale = Math.min(plotWidth / (2 * halfXMm), tallest / (2 * halfYMm));
  const plotHeight = Math.round(scale * 2 * halfYMm);
  const plot: Box = { x: left, y: 8, width: plotWidth, height: plotHeight };
  const centreX = plot.x + plot.width / 2;
  const centreY = plot.y + plot.height / 2;
  const [restX, restY] = data.restMm;
  return {
    width,
    height: plotHeight + 8 + bottom,
    plot,
    pxPerMm: scale,
    narrow,
    halfXMm: plotWidth / 2 / scale,
    halfYMm: plotHeight / 2 / scale,
    x: (mm) => centreX + (mm - restX) * scale,
    y: (mm) => centreY - (mm - restY) * scale,
    toMm: (x, y) => [restX + (x - centreX) / scale, restY + (centreY - y) / scale],
  };
}

/** Corner arcs as short strokes: a rounded rectangle turned and moved, closed, flat x y. */
export function outlinePoints(outline: PlanOutline, x: number, y: number, yaw: number): Float64Array {
  const { halfWidthMm: w, halfHeightMm: h, cornerRadiusMm: r } = outline;
  const steps = 10;
  const c = Math.cos(yaw);
  const s = Math.sin(yaw);
  const out: number[] = [];
  const corners = [
    [w - r, h - r, 0],
    [r - w, h - r, 1],
    [r - w, r - h, 2],
    [w - r, r - h, 3],
  ] as const;
  for (const [cx, cy, quarter] of corners)
    for (let k = 0; k <= (r > 0 ? steps : 0); k += 1) {
      const angle = (Math.PI / 2) * (quarter + k / steps);
      const px = cx + r * Math.cos(angle);
      const py = cy + r * Math.sin(angle);
      out.push(x + c * px - s * py, y + s * px + c * py);
    }
  return Float64Array.from(out);
}
