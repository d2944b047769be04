import type { Box } from './place-labels.ts';

/** Room around the plot, px: tick numbers left and below, dimensions beyond them. */
interface Margins {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** A drawing in mm with one scale for both axes, y up. */
export interface MapFrame {
  readonly width: number;
  readonly height: number;
  readonly plot: Box;
  readonly pxPerMm: number;
  /** Half-width and half-height of the plot, mm; the transmitter's axis is in the middle. */
  readonly halfXMm: number;
  readonly halfYMm: number;
  /** Narrow drawings put the offset's numbers into one row below. */
  readonly narrow: boolean;
  readonly x: (mm: number) => number;
  readonly y: (mm: number) => number;
  readonly toMm: (x: number, y: number) => [number, number];
}

const NARROW = 520;

function marginsFor(narrow: boolean): Margins {
  return narrow ? { left: 30, right: 6, top: 6, bottom: 62 } : { left: 108, right: 6, top: 8, bottom: 58 };
}

/**
 * Lays out a map of at least the given half-widths in `width` px. When the plot would be taller than `tallest`, it shows
 * more to the sides rather than less above.
 */
export function mapFrame(width: number, halfXMm: number, halfYMm: number, tallest: number): MapFrame {
  const narrow = width < NARROW;
  const margins = marginsFor(narrow);
  const plotWidth = Math.max(40, width - margins.left - margins.right);
  const scale = Math.min(plotWidth / (2 * halfXMm), tallest / (2 * halfYMm));
  const plotHeight = Math.round(scale * 2 * halfYMm);
  const plot: Box = { x: margins.left, y: margins.top, width: plotWidth, height: plotHeight };
  const centreX = plot.x + plot.width / 2;
  const centreY = plot.y + plot.height / 2;
  return {
    width,
    height: plotHeight + margins.top + margins.bottom,
    plot,
    pxPerMm: scale,
    halfXMm: plotWidth / 2 / scale,
    halfYMm: plotHeight / 2 / scale,
    narrow,
    x: (mm) => centreX + mm * scale,
    y: (mm) => centreY - mm * scale,
    toMm: (x, y) => [(x - centreX) / scale, (centreY - y) / scale],
  };
}

/** Extents that show both coils whole, rounded up so that the scale does not breathe with every small move. */
export function mapExtents(
  transmitter: { readonly halfWidthMm: number; readonly halfHeightMm: number },
  receiver: { readonly halfWidthMm: number; readonly halfHeightMm: number },
  pose: { readonly xMm: number; readonly yMm: number; readonly yawDeg: number },
): { readonly halfXMm: number; readonly halfYMm: number } {
  const yaw = (pose.yawDeg * Math.PI) / 180;
  const cos = Math.abs(Math.cos(yaw));
  const sin = Math.abs(Math.sin(yaw));
  const receiverX = receiver.halfWidthMm * cos + receiver.halfHeightMm * sin;
  const receiverY = receiver.halfWidthMm * sin + receiver.halfHeightMm * cos;
  const up = (value: number): number => Math.ceil((value + 1.5) / 4) * 4;
  return {
    halfXMm: up(Math.max(transmitter.halfWidthMm, receiverX + Math.abs(pose.xMm))),
    halfYMm: up(Math.max(transmitter.halfHeightMm, receiverY + Math.abs(pose.yMm))),
  };
}
