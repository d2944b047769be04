import { type FaultDetail, InputError } from '../../numerics/errors.ts';
import { millimetres } from './coil-spec-faults.ts';
import { conductorWidth } from './conductor-size.ts';
import { pieceDistance, pieceLength } from './piece-geometry.ts';
import { polygonArea, polygonClearance, sharpestCorner, tidyPolygon } from './polygon-checks.ts';
import { polygonInset } from './polygon-inset.ts';
import { circleFamily, cornerFamily, polygonFamily, type RingFamily } from './ring-family.ts';
import type { CoilSpec, Piece } from './types.ts';

/** Sharpest corner of a free path that still counts as a corner, rad: common practice, no source. */
const SHARPEST_PATH_CORNER = (15 * Math.PI) / 180;

/**
 * The ring family of a coil whose wires take the positions 0..span in each layer (span = 0: a single wire), checked:
 * neighbouring positions keep at least one conductor width between centre lines everywhere.
 *
 * @throws InputError naming the outline's entry at fault and the spacing that is missing
 */
export function outlineFamily(spec: CoilSpec, span: number, spiral: boolean): RingFamily {
  const { outline } = spec;
  const width = conductorWidth(spec.conductor);
  const parts = spiral ? 3 : 1;
  if (outline.shape === 'path') return pathFamily(spec, outline.points, outline.pitch / spec.filars, span);
  if (outline.shape === 'circle') {
    const [outer, pitch] = band(outline.outerDiameter, outline.innerDiameter, 'outline.innerDiameter', spec, span);
    return circleFamily(outer, pitch, spiral ? 12 : 1);
  }
  const [outerX, pitchX] = band(outline.outerWidth, outline.innerWidth, 'outline.innerWidth', spec, span);
  const [outerY, pitchY] = band(outline.outerHeight, outline.innerHeight, 'outline.innerHeight', spec, span);
  const sides = (position: number) => ({
    halfWidth: outerX - position * pitchX,
    halfHeight: outerY - position * pitchY,
  });
  if (outline.shape === 'stadium') {
    const family = cornerFamily(
      (position) => {
        const { halfWidth, halfHeight } = sides(position);
        return { halfWidth, halfHeight, radius: Math.min(halfWidth, halfHeight) };
      },
      pitchX,
      pitchY,
      parts,
    );
    return spaced(family, span, width, 'outline.innerWidth');
  }
  const first = Math.max(0, outline.outerCornerRadius - width / 2);
  const last = outline.innerCornerRadius === null ? null : outline.innerCornerRadius + width / 2;
  const tightest = Math.min(width / 2, first);
  const step = Math.min(pitchX, pitchY);
  const family = cornerFamily(
    (position) => {
      const { halfWidth, halfHeight } = sides(position);
      const radius =
        last === null || span === 0
          ? Math.max(tightest, first - position * step)
          : first + ((last - first) * position) / span;
      return { halfWidth, halfHeight, radius: Math.min(radius, halfWidth, halfHeight) };
    },
    pitchX,
    pitchY,
    parts,
  );
  return spaced(family, span, width, last === null ? 'outline.outerCornerRadius' : 'outline.innerCornerRadius');
}

/** Outermost half-size and pitch of the centre lines between two edges; refuses a pitch below the conductor's width. */
function band(outer: number, inner: number, path: string, spec: CoilSpec, span: number): readonly [number, number] {
  const width = conductorWidth(spec.conductor);
  const outermost = (outer - width) / 2;
  if (span === 0) {
    const wanted = outer - 2 * width;
    if (Math.abs(inner - wanted) > 0.02 * width + 2e-5) {
      throw new InputError({
        code: 'band-not-filled',
        path,
        required: `${millimetres(wanted)}, since a single turn fills one conductor width (${millimetres(width)}) on each side`,
        received: millimetres(inner),
      });
    }
    return [(outer + inner) / 4, 0];
  }
  const pitch = (outer - inner - 2 * width) / 2 / span;
  if (pitch < width * (1 - 1e-9)) {
    const largest = outer - 2 * width * (span + 1);
    const fits =
      largest >= 0
        ? `at most ${millimetres(largest)}`
        : 'smaller than any real opening (use fewer turns, more layers or a thinner conductor)';
    throw new InputError({
      code: 'turns-overlap',
      path,
      required: `${fits} so that the turns lie side by side: each spacing of ${millimetres(pitch)} is ${millimetres(width - pitch)} short of the conductor's ${millimetres(width)}`,
      received: millimetres(inner),
    });
  }
  return [outermost, pitch];
}

/** Passes the family on if all neighbouring rings keep their distance. */
function spaced(family: RingFamily, span: number, width: number, path: string): RingFamily {
  let least = Number.POSITIVE_INFINITY;
  let where = 0;
  for (let position = 0; position + 1 <= span + 1e-9; position++) {
    const distance = ringDistance(family.template(position), family.template(position + 1));
    if (distance < least) {
      least = distance;
      where = position;
    }
  }
  if (least < width * (1 - 1e-9)) {
    throw new InputError({
      code: 'turns-overlap',
      path,
      required: `such that neighbouring turns keep the conductor's ${millimetres(width)} also in the corners: ${millimetres(width - least)} of spacing are missing between turn ${where + 1} and the next`,
      received: `corners that leave ${millimetres(least)}`,
    });
  }
  return family;
}

function pathFamily(spec: CoilSpec, points: Float64Array, pitch: number, span: number): RingFamily {
  const width = conductorWidth(spec.conductor);
  const faults: FaultDetail[] = [];
  if (span > 0 && pitch < width * (1 - 1e-9)) {
    faults.push({
      code: 'turns-overlap',
      path: 'outline.pitch',
      required: `at least ${millimetres(width * spec.filars)}: ${millimetres((width - pitch) * spec.filars)} of spacing are missing`,
      received: millimetres(pitch * spec.filars),
    });
  }
  const reach = points.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const outermost = tidyPolygon(points, 1e-9 * reach);
  const crossing = polygonClearance(outermost, 0);
  if (crossing.distance === 0) {
    throw new InputError(...faults, {
      code: 'path-crosses-itself',
      path: 'outline.points',
      required: 'a path that does not cross itself',
      received: `sides ${crossing.first + 1} and ${crossing.second + 1} that cross or touch`,
    });
  }
  if (outermost.length < 6 || Math.abs(polygonArea(outermost)) < 1e-9 * reach * reach) {
    throw new InputError(...faults, {
      code: 'no-area',
      path: 'outline.points',
      required: 'at least three different points that enclose an area',
      received: `${outermost.length / 2} different points without one`,
    });
  }
  if (faults.length > 0) throw new InputError(...faults);
  const inset = polygonInset(outermost, span * pitch);
  for (let position = 0; position < span + 1; position++) {
    const at = Math.min(position, span);
    const turn = Math.floor(position / spec.filars) + 1;
    if (at * pitch >= inset.vanishesAt * (1 - 1e-9)) {
      throw new InputError({
        code: 'turn-vanishes',
        path: 'turns',
        required: `at most ${turn - 1}, since nothing is left inside the path ${millimetres(inset.vanishesAt)} from it`,
        received: `${spec.turns}`,
      });
    }
    const ring = inset.verticesAt(at * pitch);
    const corner = sharpestCorner(withoutMerged(ring, reach));
    if (corner.angle < SHARPEST_PATH_CORNER) {
      throw new InputError({
        code: 'corner-not-windable',
        path: 'outline.points',
        required: 'corners of 15 degrees or more, in the inward turns too',
        received: `a corner of ${((corner.angle * 180) / Math.PI).toFixed(1)} degrees in turn ${turn}`,
      });
    }
    const narrow = polygonClearance(ring, 3 * width);
    if (narrow.distance === 0 || polygonArea(ring) <= 0) {
      throw new InputError({
        code: 'turn-crosses-itself',
        path: 'outline.points',
        required: `a shape whose inward turns stay whole for ${spec.turns} turns`,
        received: `turn ${turn} that crosses itself ${millimetres(at * pitch)} inside the path`,
      });
    }
    if (narrow.distance < width * (1 - 1e-9)) {
      throw new InputError({
        code: 'turns-overlap',
        path: 'outline.points',
        required: `a shape whose every turn keeps the conductor's ${millimetres(width)} from itself`,
        received: `turn ${turn} that comes within ${millimetres(narrow.distance)} of itself; ${millimetres(width - narrow.distance)} of spacing are missing`,
      });
    }
  }
  return spaced(polygonFamily(inset, pitch), span, width, 'outline.points');
}

function withoutMerged(ring: Float64Array, reach: number): Float64Array {
  return tidyPolygon(ring, 1e-9 * reach);
}

/** Least distance between two rings, skipping pieces whose boxes are already farther apart. */
function ringDistance(a: readonly Piece[], b: readonly Piece[]): number {
  let least = Number.POSITIVE_INFINITY;
  const boxes = b.map(box);
  for (const p of a) {
    const [x0, x1, y0, y1] = box(p);
    for (let j = 0; j < b.length; j++) {
      const [u0, u1, v0, v1] = boxes[j];
      const gapX = Math.max(0, u0 - x1, x0 - u1);
      const gapY = Math.max(0, v0 - y1, y0 - v1);
      if (gapX * gapX + gapY * gapY < least * least) least = Math.min(least, pieceDistance(p, b[j]));
    }
  }
  return least;
}

function box(piece: Piece): readonly [number, number, number, number] {
  if (piece.kind === 'line') {
    return [
      Math.min(piece.x0, piece.x1),
      Math.max(piece.x0, piece.x1),
      Math.min(piece.y0, piece.y1),
      Math.max(piece.y0, piece.y1),
    ];
  }
  const reach = Math.min(piece.radius, pieceLength(piece));
  const x = piece.cx + piece.radius * Math.cos(piece.start + piece.sweep / 2);
  const y = piece.cy + piece.radius * Math.sin(piece.start + piece.sweep / 2);
  const around = reach < piece.radius ? pieceLength(piece) / 2 : piece.radius;
  const [cx, cy] = reach < piece.radius ? [x, y] : [piece.cx, piece.cy];
  return [cx - around, cx + around, cy - around, cy + around];
}
