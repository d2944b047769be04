import { DESIGN_DEFAULTS, DESIGN_LIMITS } from '../../design/defaults.ts';
import type { CoilDocument, Design } from '../../design/types.ts';
import { windSide } from '../../design/wind.ts';
import { type FaultDetail, InputError } from '../../numerics/errors.ts';
import { reshaped } from './rivals.ts';

/** A point of a picture, px: x to the right, y down, from the top left corner. */
export type PicturePoint = readonly [number, number];

/** A length that is known in the picture. Half-widths are 95 %. */
export interface TraceScale {
  readonly from: PicturePoint;
  readonly to: PicturePoint;
  readonly lengthMm: number;
  /** How far the length may be off, mm: the ruler's reading. */
  readonly errorMm: number;
}

/** What was traced over a picture: the centre line of the outermost turn. */
export interface Trace {
  readonly points: readonly PicturePoint[];
  readonly scale: TraceScale;
  /** How far a point may lie beside what it was put on, px of the picture, 95 %. */
  readonly pointingPx: number;
  /** The points run along one half only; the line through the first and the last is the axis of symmetry. */
  readonly half: boolean;
  /** What lies along x: the picture's lower edge, or the line of the scale. */
  readonly along: 'picture' | 'scale';
}

/** A length and its 95 % half-width, mm. */
export interface TracedLength {
  readonly valueMm: number;
  readonly halfMm: number;
}

export interface TracedOutline {
  /** About the middle of its own box, x to the right and y up as seen in the picture, mm. */
  readonly pointsMm: readonly (readonly [number, number])[];
  /** Over the centre line. */
  readonly width: TracedLength;
  readonly height: TracedLength;
  readonly mmPerPixel: number;
  /** Relative half-width of every length that comes from the scale: its length's reading and both of its ends. */
  readonly scaleError: number;
  /** Share of the area that straight sides leave out where the wire runs round from point to point. */
  readonly missingArea: number;
}

/** Turns of the outline below this are taken for a bend of the wire and not for a corner, rad. */
const BEND = Math.PI / 3;
/** Sizes of a coil that the design file takes, mm. */
const LEAST_MM = 0.5;
const MOST_MM = 1000;

/**
 * The outline that was traced, as the design file takes it.
 *
 * Errors as independent: the scale's (length read, two ends pointed at) and both ends of a size pointed at, each 95 %. A
 * picture taken from straight above is assumed; perspective and the lens are not corrected.
 *
 * @throws InputError with paths `scale.length`, `scale.error`, `scale`, `points`
 */
export function tracedOutline(trace: Trace): TracedOutline {
  const { scale, half } = trace;
  const faults = traceFaults(trace);
  if (faults.length > 0) throw new InputError(...(faults as [FaultDetail, ...FaultDetail[]]));
  const [dx, dy] = [scale.to[0] - scale.from[0], scale.to[1] - scale.from[1]];
  const scalePx = Math.hypot(dx, dy);
  const mmPerPixel = scale.lengthMm / scalePx;
  const turned = (angle: number) => {
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    return ([x, y]: PicturePoint): [number, number] => [c * x - s * y, s * x + c * y];
  };
  // From here on y points up.
  let points = trace.points.map(([x, y]): [number, number] => [mmPerPixel * x, -mmPerPixel * y]);
  if (trace.along === 'scale') points = points.map(turned(alongNearest(Math.atan2(-dy, dx), Math.PI)));
  if (half) points = mirrored(points);
  const box = ([0, 1] as const).map((axis) => points.map((point) => point[axis]));
  const middle = box.map((values) => (Math.min(...values) + Math.max(...values)) / 2) as [number, number];
  const sizes = box.map((values) => Math.max(...values) - Math.min(...values)) as [number, number];
  sizes.forEach((size, axis) => {
    if (size < LEAST_MM || size > MOST_MM)
      throw new InputError({
        code: 'size-out-of-range',
        path: 'points',
        required: `an outline ${LEAST_MM} to ${MOST_MM} mm ${axis === 0 ? 'wide' : 'high'}`,
        received: `${Number(size.toPrecision(3))} mm`,
        hint: 'Look at the scale: are its two ends on the marks, and is its length right?',
      });
  });
  const pointsMm = points.map(([x, y]): [number, number] => [round(x - middle[0]), round(y - middle[1])]);
  const scaleError = Math.hypot(scale.errorMm / scale.lengthMm, (Math.SQRT2 * trace.pointingPx) / scalePx);
  const length = (valueMm: number): TracedLength => ({
    valueMm,
    halfMm: Math.hypot(valueMm * scaleError, Math.SQRT2 * trace.pointingPx * mmPerPixel),
  });
  return {
    pointsMm,
    width: length(sizes[0]),
    height: length(sizes[1]),
    mmPerPixel,
    scaleError,
    missingArea: missingArea(pointsMm),
  };
}

function traceFaults({ points, scale, half, pointingPx }: Trace): FaultDetail[] {
  const faults: FaultDetail[] = [];
  const most = half ? Math.floor(DESIGN_LIMITS.pathPoints / 2) + 1 : DESIGN_LIMITS.pathPoints;
  if (!(scale.lengthMm > 0 && Number.isFinite(scale.lengthMm)))
    faults.push({
      code: 'not-positive',
      path: 'scale.length',
      required: 'a length above 0 mm between the two ends of the scale',
      received: `${scale.lengthMm} mm`,
    });
  else if (!(scale.errorMm >= 0 && scale.errorMm < scale.lengthMm))
    faults.push({
      code: 'error-too-large',
      path: 'scale.error',
      required: `0 mm or more, and less than the length of ${scale.lengthMm} mm`,
      received: `${scale.errorMm} mm`,
    });
  const apart = Math.hypot(scale.to[0] - scale.from[0], scale.to[1] - scale.from[1]);
  if (!(apart > 8 * pointingPx))
    faults.push({
      code: 'scale-too-short',
      path: 'scale',
      required: `two ends at least ${Math.ceil(8 * pointingPx)} px of the picture apart`,
      received: `${apart.toFixed(0)} px`,
      hint: 'Drag the two ends to marks of the ruler that lie far apart.',
    });
  if (points.length < 3 || points.length > most)
    faults.push({
      code: 'too-few-points',
      path: 'points',
      required: `3 to ${most} points on the centre line of the outermost turn`,
      received: `${points.length}`,
    });
  return faults;
}

/** The turn that brings a direction onto the nearest multiple of `step`, rad. */
function alongNearest(direction: number, step: number): number {
  return Math.round(direction / step) * step - direction;
}

/** One half with its mirror image; the axis, through the first and the last point, turned onto the nearer of x and y. */
function mirrored(points: readonly (readonly [number, number])[]): [number, number][] {
  const [x0, y0] = points[0]!;
  const [x1, y1] = points[points.length - 1]!;
  const direction = Math.atan2(y1 - y0, x1 - x0);
  const level = alongNearest(direction, Math.PI / 2);
  const place = (x: number, y: number): [number, number] => {
    const [c, s] = [Math.cos(level), Math.sin(level)];
    return [c * (x - x0) - s * (y - y0), s * (x - x0) + c * (y - y0)];
  };
  const one = points.map(([x, y]) => place(x, y));
  const upright = Math.abs(Math.cos(direction + level)) < 0.5;
  const other = one.slice(1, -1).map(([x, y]): [number, number] => (upright ? [-x, y] : [x, -y]));
  return [...one, ...other.toReversed()];
}

/**
 * Share of area that a polygon's sides leave out if the curve bends evenly through its points: c^2 t / 12 for a side c
 * between turns of t (circle segment, first order); sharp corners count as corners.
 */
function missingArea(points: readonly (readonly [number, number])[]): number {
  const n = points.length;
  const at = (i: number) => points[(i + n) % n]!;
  const turn = (i: number): number => {
    const [a, b, c] = [at(i - 1), at(i), at(i + 1)];
    const cross = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
    const along = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]);
    const angle = Math.atan2(cross, along);
    return Math.abs(angle) > BEND ? 0 : angle;
  };
  let left = 0;
  let twice = 0;
  for (let i = 0; i < n; i++) {
    const [a, b] = [at(i), at(i + 1)];
    left += (((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) * (turn(i) + turn(i + 1))) / 24;
    twice += a[0] * b[1] - a[1] * b[0];
  }
  return twice === 0 ? 0 : Math.abs(left / (twice / 2));
}

/** The coil with the traced outline; what was measured on the old one is forgotten. */
function tracedCoil(coil: CoilDocument, pointsMm: TracedOutline['pointsMm'], pitchMm: number): CoilDocument {
  const outline = { shape: 'path' as const, pointsMm: pointsMm.map(([x, y]): [number, number] => [x, y]), pitchMm };
  return { ...reshaped(coil, outline), winding: 'rings' };
}

/** The design with the traced outline in one of its coils, or why it cannot be wound. */
export type TracedDesign =
  | { readonly ok: true; readonly design: Design }
  | { readonly ok: false; readonly faults: readonly FaultDetail[] };

/** The design with the traced outline in one of its coils: its own turns, layers and conductor at the given pitch. */
export function withTrace(
  design: Design,
  side: 'transmitter' | 'receiver',
  traced: TracedOutline,
  pitchMm: number,
): TracedDesign {
  const part = design[side];
  const next = { ...design, [side]: { ...part, coil: tracedCoil(part.coil, traced.pointsMm, pitchMm) } } as Design;
  const wound = windSide(next, side);
  return wound.ok ? { ok: true, design: next } : wound;
}

/** Relative half-width of the outline's sizes, the larger of both. */
export function sizeErrorOf({ width, height }: TracedOutline): number {
  return Math.max(width.halfMm / width.valueMm, height.halfMm / height.valueMm);
}

/** The inductance's tolerance widened by what the picture leaves open, beside the one of any coil that was not measured. */
export function withTraceTolerance(design: Design, side: 'transmitter' | 'receiver', percent: number): Design {
  const part = design[side];
  const total = round(Math.hypot(percent, DESIGN_DEFAULTS.coil.inductanceTolerancePercent));
  return { ...design, [side]: { ...part, coil: { ...part.coil, inductanceTolerancePercent: total } } } as Design;
}

function round(value: number): number {
  return Number(value.toFixed(3)) + 0;
}
