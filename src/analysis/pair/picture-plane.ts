import { Matrix, solve } from 'ml-matrix';
import { type FaultDetail, InputError } from '../../numerics/errors.ts';

/** A point of a picture, px: x to the right, y down, from the top left corner. */
export type PicturePoint = readonly [number, number];

/** A rectangle that is known in the picture: a card, a sheet, a square drawn round the coil. */
export interface PictureRectangle {
  /** Round it clockwise as seen; the first side, between the first two, is as long as the width says. */
  readonly corners: readonly [PicturePoint, PicturePoint, PicturePoint, PicturePoint];
  readonly widthMm: number;
  readonly heightMm: number;
  /** How far either side may be off, mm, 95 %. */
  readonly errorMm: number;
}

/** Where a point of the picture lies in the rectangle's plane, mm: x along the first side, y along the second, down. */
export type PlacePoint = (point: PicturePoint) => [number, number];

/**
 * The plane of a rectangle seen aslant: the projective map of its four corners onto the rectangle.
 *
 * What lies above or below that plane, and what a lens bends, is not put right.
 *
 * Method: direct linear transformation of four points, eight unknowns, h33 = 1 about the middle of the corners; R. Hartley and A. Zisserman,
 * Multiple View Geometry in Computer Vision, 2nd ed., section 4.1 (from memory).
 *
 * @throws InputError with path `scale` where the corners make no convex four-sided figure, clockwise
 */
export function planeOf({ corners, widthMm, heightMm }: PictureRectangle): PlacePoint {
  const fault = cornersFault(corners);
  if (fault) throw new InputError(fault);
  // About their middle and at unit size, so that the system is well conditioned and h33 is not near 0.
  const middle = [0, 1].map((axis) => corners.reduce((sum, corner) => sum + corner[axis]!, 0) / 4) as [number, number];
  const size = Math.max(...corners.map(([x, y]) => Math.hypot(x - middle[0], y - middle[1])));
  const unit = ([x, y]: PicturePoint): [number, number] => [(x - middle[0]) / size, (y - middle[1]) / size];
  const goals = [
    [0, 0],
    [widthMm, 0],
    [widthMm, heightMm],
    [0, heightMm],
  ] as const;
  const rows: number[][] = [];
  const right: number[][] = [];
  corners.forEach((corner, i) => {
    const [x, y] = unit(corner);
    const [u, v] = goals[i]!;
    rows.push([x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]);
    right.push([u], [v]);
  });
  const [a, b, c, d, e, f, g, h] = solve(new Matrix(rows), new Matrix(right)).to1DArray() as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  return (point) => {
    const [x, y] = unit(point);
    const w = g * x + h * y + 1;
    if (!(w > 1e-6)) throw new InputError(beyondHorizon());
    return [(a * x + b * y + c) / w, (d * x + e * y + f) / w];
  };
}

/** Why four corners are no rectangle seen aslant; null where they may be one. */
function cornersFault(corners: PictureRectangle['corners']): FaultDetail | null {
  const turns = corners.map((corner, i) => {
    const [from, to] = [corners[(i + 3) % 4]!, corners[(i + 1) % 4]!];
    return (corner[0] - from[0]) * (to[1] - corner[1]) - (corner[1] - from[1]) * (to[0] - corner[0]);
  });
  // y is down: clockwise as seen turns with a positive product. Less than a thousandth of the longest side's square is flat.
  const longest = Math.max(
    ...corners.map((corner, i) =>
      Math.hypot(corner[0] - corners[(i + 1) % 4]![0], corner[1] - corners[(i + 1) % 4]![1]),
    ),
  );
  if (turns.every((turn) => turn > 1e-3 * longest ** 2)) return null;
  const mirrored = turns.every((turn) => turn < 0);
  return {
    code: 'corners-crossed',
    path: 'scale',
    required: 'four corners of a rectangle, one after the other clockwise, none of them in line with its neighbours',
    received: mirrored ? 'corners that run the other way round' : 'corners that cross or lie in line',
    hint: 'Put 1 to 4 on the corners in turn, clockwise as the picture shows them; the width lies between 1 and 2.',
  };
}

function beyondHorizon(): FaultDetail {
  return {
    code: 'beyond-horizon',
    path: 'points',
    required: 'points on the plane of the rectangle',
    received: 'a point beyond the line where that plane vanishes',
    hint: 'Look at the four corners: do they lie on the rectangle?',
  };
}
