import { DESIGN_DEFAULTS, DESIGN_LIMITS } from '../../design/defaults.ts';
import type { CoilDocument, Design } from '../../design/types.ts';
import { windSide } from '../../design/wind.ts';
import { type FaultDetail, InputError } from '../../numerics/errors.ts';
import { type PicturePoint, type PictureRectangle, type PlacePoint, planeOf } from './picture-plane.ts';
import { reshaped } from './rivals.ts';

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
  /** A length, for a picture from straight above; a rectangle puts right what is seen aslant. */
  readonly scale: TraceScale | PictureRectangle;
  /** How far a point may lie beside what it was put on, px of the picture, 95 %. */
  readonly pointingPx: number;
  /** The points run along one half only; the line through the first and the last is the axis of symmetry. */
  readonly half: boolean;
  /** What lies along x: the picture's lower edge, or the line of the scale. A rectangle's own sides are always level. */
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
 * Errors as independent: the scale's (lengths read, its ends or corners pointed at) and both ends of a size pointed at, each
 * 95 %, to first order. With a length a picture taken from straight above is assumed; a rectangle puts perspective right. What
 * the lens bends is not corrected.
 *
 * @throws InputError with paths `scale.length`, `scale.error`, `scale`, `points`
 */
export function tracedOutline(trace: Trace): TracedOutline {
  const faults = traceFaults(trace);
  if (faults.length > 0) throw new InputError(...(faults as [FaultDetail, ...FaultDetail[]]));
  const points = placed(trace);
  const box = boxOf(points);
  box.sizes.forEach((size, axis) => {
    if (size < LEAST_MM || size > MOST_MM)
      throw new InputError({
        code: 'size-out-of-range',
        path: 'points',
        required: `an outline ${LEAST_MM} to ${MOST_MM} mm ${axis === 0 ? 'wide' : 'high'}`,
        received: `${Number(size.toPrecision(3))} mm`,
        hint: 'Look at the scale: are its ends on the marks, and is its length right?',
      });
  });
  const pointsMm = points.map(([x, y]): [number, number] => [round(x - box.middle[0]), round(y - box.middle[1])]);
  const [width, height] = box.sizes;
  const errors = 'corners' in trace.scale ? rectangleErrors(trace, trace.scale) : lengthErrors(trace, trace.scale);
  return {
    pointsMm,
    width: { valueMm: width, halfMm: errors(0, width) },
    height: { valueMm: height, halfMm: errors(1, height) },
    missingArea: missingArea(pointsMm),
  };
}

/** The points as the scale has them, y up, mm: level, and both halves. */
function placed({ points, scale, along, half }: Trace): [number, number][] {
  const place = 'corners' in scale ? levelPlane(scale) : levelScale(scale, along);
  const one = points.map(place);
  return half ? mirrored(one) : one;
}

function turnedBy(angle: number): (x: number, y: number) => [number, number] {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return (x, y) => [c * x - s * y, s * x + c * y];
}

function levelScale({ from, to, lengthMm }: TraceScale, along: Trace['along']): PlacePoint {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const mmPerPixel = lengthMm / Math.hypot(dx, dy);
  const turned = turnedBy(along === 'scale' ? alongNearest(Math.atan2(-dy, dx), Math.PI) : 0);
  return ([x, y]) => turned(mmPerPixel * x, -mmPerPixel * y);
}

/** In the rectangle's plane, by quarter turns as near to the picture's own right and up as they go. */
function levelPlane(rectangle: PictureRectangle): PlacePoint {
  const place = planeOf(rectangle);
  const [first, second] = rectangle.corners;
  // The first side runs to the right in the plane; where it runs in the picture says by how many quarters that is off.
  const direction = Math.atan2(-(second[1] - first[1]), second[0] - first[0]);
  const turned = turnedBy(Math.round(direction / (Math.PI / 2)) * (Math.PI / 2));
  return (point) => {
    const [x, y] = place(point);
    return turned(x, -y);
  };
}

function boxOf(points: readonly (readonly [number, number])[]): {
  readonly middle: readonly [number, number];
  readonly sizes: readonly [number, number];
} {
  const ends = ([0, 1] as const).map((axis) => {
    const values = points.map((point) => point[axis]);
    return [Math.min(...values), Math.max(...values)] as const;
  }) as [readonly [number, number], readonly [number, number]];
  return {
    middle: ends.map(([low, high]) => (low + high) / 2) as [number, number],
    sizes: ends.map(([low, high]) => high - low) as [number, number],
  };
}

/** Half-width of a size along an axis, mm. */
type SizeError = (axis: 0 | 1, valueMm: number) => number;

function lengthErrors({ pointingPx }: Trace, { from, to, lengthMm, errorMm }: TraceScale): SizeError {
  const scalePx = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const relative = Math.hypot(errorMm / lengthMm, (Math.SQRT2 * pointingPx) / scalePx);
  const ends = (Math.SQRT2 * pointingPx * lengthMm) / scalePx;
  return (_axis, valueMm) => Math.hypot(valueMm * relative, ends);
}

/** By moving all that a size hangs on, one by one: corners, sides, the points at its ends. */
function rectangleErrors(trace: Trace, rectangle: PictureRectangle): SizeError {
  // Small beside any size in the picture, large beside rounding.
  const nudge = 0.05;
  const home = placed(trace);
  const ends = ([0, 1] as const).map((axis) => {
    const values = home.map((point) => point[axis]);
    return [values.indexOf(Math.min(...values)), values.indexOf(Math.max(...values))] as const;
  });
  const size = (points: readonly (readonly [number, number])[], axis: 0 | 1): number => {
    const [low, high] = ends[axis]!;
    return points[high]![axis] - points[low]![axis];
  };
  const sums: [number, number] = [0, 0];
  const count = (moved: Trace, weight: number): void => {
    const points = placed(moved);
    for (const axis of [0, 1] as const) sums[axis] += (weight * (size(points, axis) - size(home, axis))) ** 2;
  };
  const n = trace.points.length;
  // A mirror image stands for the point it came from; the axis for its two ends.
  const pointed = new Set(ends.flat().map((i) => (i < n ? i : 2 * n - 2 - i)));
  if (trace.half) pointed.add(0).add(n - 1);
  const weight = trace.pointingPx / nudge;
  for (const axis of [0, 1] as const) {
    const shifted = ([x, y]: PicturePoint): PicturePoint => (axis === 0 ? [x + nudge, y] : [x, y + nudge]);
    for (let i = 0; i < 4; i++) {
      const corners = rectangle.corners.map((corner, j) => (j === i ? shifted(corner) : corner));
      count({ ...trace, scale: { ...rectangle, corners: corners as unknown as PictureRectangle['corners'] } }, weight);
    }
    for (const i of pointed)
      count({ ...trace, points: trace.points.map((point, j) => (j === i ? shifted(point) : point)) }, weight);
  }
  for (const side of ['widthMm', 'heightMm'] as const)
    count({ ...trace, scale: { ...rectangle, [side]: rectangle[side] + nudge } }, rectangle.errorMm / nudge);
  return (axis) => Math.sqrt(sums[axis]);
}

function traceFaults({ points, scale, half, pointingPx }: Trace): FaultDetail[] {
  const most = half ? Math.floor(DESIGN_LIMITS.pathPoints / 2) + 1 : DESIGN_LIMITS.pathPoints;
  const faults = 'corners' in scale ? rectangleFaults(scale, pointingPx) : lengthFaults(scale, pointingPx);
  if (points.length < 3 || points.length > most)
    faults.push({
      code: 'too-few-points',
      path: 'points',
      required: `3 to ${most} points on the centre line of the outermost turn`,
      received: `${points.length}`,
    });
  return faults;
}

function statedFaults(words: string, lengthMm: number, errorMm: number): FaultDetail[] {
  if (!(lengthMm > 0 && Number.isFinite(lengthMm)))
    return [
      {
        code: 'not-positive',
        path: 'scale.length',
        required: `a length above 0 mm ${words}`,
        received: `${lengthMm} mm`,
      },
    ];
  if (errorMm >= 0 && errorMm < lengthMm) return [];
  return [
    {
      code: 'error-too-large',
      path: 'scale.error',
      required: `0 mm or more, and less than the length of ${lengthMm} mm`,
      received: `${errorMm} mm`,
    },
  ];
}

function shortFaults(apart: number, pointingPx: number): FaultDetail[] {
  if (apart > 8 * pointingPx) return [];
  return [
    {
      code: 'scale-too-short',
      path: 'scale',
      required: `marks at least ${Math.ceil(8 * pointingPx)} px of the picture apart`,
      received: `${apart.toFixed(0)} px`,
      hint: 'Drag the marks of the scale far apart, to what they stand for.',
    },
  ];
}

function lengthFaults({ from, to, lengthMm, errorMm }: TraceScale, pointingPx: number): FaultDetail[] {
  return [
    ...statedFaults('between the two ends of the scale', lengthMm, errorMm),
    ...shortFaults(Math.hypot(to[0] - from[0], to[1] - from[1]), pointingPx),
  ];
}

function rectangleFaults({ corners, widthMm, heightMm, errorMm }: PictureRectangle, pointingPx: number): FaultDetail[] {
  const sides = corners.map((corner, i) => {
    const next = corners[(i + 1) % 4]!;
    return Math.hypot(next[0] - corner[0], next[1] - corner[1]);
  });
  return [
    ...statedFaults('for the width of the rectangle', widthMm, errorMm),
    ...statedFaults('for the height of the rectangle', heightMm, errorMm),
    ...shortFaults(Math.min(...sides), pointingPx),
  ];
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
