import { gaussLegendre } from '../../numerics/gauss-legendre.ts';
import { isMirrored } from '../coil/mirrored.ts';
import { nearbyPieces } from '../coil/nearby-pieces.ts';
import { passRanges } from '../coil/pass-ranges.ts';
import { isFullCircle, pieceLength, piecePoint, pieceTangent } from '../coil/piece-geometry.ts';
import type { Piece, Winding } from '../coil/types.ts';
import { windingField } from '../coil/winding-field.ts';

/** Magnetic field of everything but the winding itself, per ampere of its current: A/m into `out`, coil frame, metres. */
export type ExternalField = (x: number, y: number, z: number, out: Float64Array) => void;

/** Another station beside one, seen from it along its in-plane normal (outwards) and along z, m. */
export interface Neighbour {
  readonly station: number;
  readonly across: number;
  readonly height: number;
  /** Its share of the coil current, in the station's direction. */
  readonly current: number;
}

/** A place on the winding at which the field across the conductor's section is evaluated. */
export interface Station {
  readonly turn: number;
  /** Length of wire that it stands for, m. */
  readonly length: number;
  readonly neighbours: readonly Neighbour[];
  /**
   * Field per coil ampere at a place of the section, of all pieces but those of its own pass, of its own pass as far as it
   * is bent or ends (the same all over the section), and of what lies around: first the part along the in-plane normal,
   * then along z, into `out`.
   */
  readonly field: (across: number, up: number, out: Float64Array) => void;
}

export interface StationOptions {
  /** Field of ferrite and metal nearby, or null. */
  readonly externalField: ExternalField | null;
  /** The external field has the winding's own mirror symmetry (plates centred behind it). Saves three quarters of the work. */
  readonly externalIsSymmetric: boolean;
}

export const STATION_DEFAULTS: StationOptions = Object.freeze({ externalField: null, externalIsSymmetric: true });

/**
 * Stations along all turns of a winding: one on a circular turn, two to a piece otherwise, one to a piece of a spiral.
 * Windings symmetric about both axes get them in the first quadrant only, each standing for four.
 *
 * @param reach distance up to which neighbours are listed, m
 * @param meanDistance geometric mean distance of the section from itself, m: a straight wire has no field of its own on its
 *   middle, a bent one has; its mean over the section is that of the centre line seen from this far above
 */
export function placeStations(
  winding: Winding,
  reach: number,
  meanDistance: number,
  options: StationOptions,
): Station[] {
  const { externalField, externalIsSymmetric } = options;
  const rings = winding.spec.winding === 'rings';
  const mirrored = isMirrored(winding) && (externalField === null || externalIsSymmetric);
  const source = windingField(winding, 1e-3);
  const near = nearbyPieces(winding, reach);
  const total = new Float64Array(3);
  const outside = new Float64Array(3);

  interface Spot {
    readonly turn: number;
    readonly piece: number;
    readonly at: number;
    readonly share: number;
  }
  const spots: Spot[] = winding.turns.flatMap(({ pieces }, turn) =>
    pieces.flatMap((piece, index) =>
      samples(piece, mirrored, rings, externalField !== null).map(([at, share]) => ({ turn, piece: index, at, share })),
    ),
  );
  /** Station on a piece nearest to a fraction of it. */
  const byPiece = new Map<string, number[]>();
  spots.forEach(({ turn, piece }, k) => {
    const key = `${turn} ${piece}`;
    byPiece.set(key, [...(byPiece.get(key) ?? []), k]);
  });
  const nearest = (turn: number, piece: number, fraction: number): number | null => {
    let best: number | null = null;
    for (const k of byPiece.get(`${turn} ${piece}`) ?? []) {
      if (best === null || Math.abs(spots[k].at - fraction) < Math.abs(spots[best].at - fraction)) best = k;
    }
    return best;
  };

  const passes = winding.turns.map((turn) => (rings ? null : passRanges(turn, false)));
  return spots.map(({ turn, piece: index, at, share }): Station => {
    const piece = winding.turns[turn].pieces[index];
    const [x, y, dz] = piecePoint(piece, at);
    const z = winding.turns[turn].z + dz;
    const [tx, ty] = pieceTangent(piece, at);
    const [from, to] = passes[turn]?.around(index) ?? [0, winding.turns[turn].pieces.length];
    const first = source.firstPiece[turn];
    source.of(x, y, z + meanDistance, first + from, first + to, total);
    const bent = total[2];
    const neighbours: Neighbour[] = [];
    for (const found of near.at(turn, index, x, y, z, tx, ty)) {
      const station = nearest(found.turn, found.index, found.fraction);
      if (station !== null)
        neighbours.push({ station, across: found.across, height: found.height, current: found.current });
    }
    return {
      turn,
      length: share * pieceLength(piece),
      neighbours,
      field(across, up, out) {
        const px = x + ty * across;
        const py = y - tx * across;
        source.at(px, py, z + up, first + from, first + to, total);
        if (externalField) {
          externalField(px, py, z + up, outside);
          for (let k = 0; k < 3; k++) total[k] += outside[k];
        }
        out[0] = total[0] * ty - total[1] * tx;
        out[1] = total[2] + bent;
      },
    };
  });
}

/** Places on a piece, as fractions of it, with their shares; symmetric windings only in the first quadrant. */
function samples(piece: Piece, mirrored: boolean, rings: boolean, outside: boolean): (readonly [number, number])[] {
  if (isFullCircle(piece)) {
    if (!outside) return [[0, 1]];
    // Middles of equal parts: of the first quadrant, or of the whole circle.
    const parts = mirrored ? 4 : 16;
    return Array.from({ length: parts }, (_, i) => [((i + 0.5) / parts) * (mirrored ? 0.25 : 1), 1 / parts] as const);
  }
  // A spiral's upright stubs carry no field worth counting.
  if (!rings) return Math.abs(pieceTangent(piece, 0.5)[2]) > 0.5 ? [] : [[0.5, 1]];
  const { nodes, weights } = gaussLegendre(2);
  const all: (readonly [number, number])[] = [];
  for (let i = 0; i < 2; i++) {
    const at = (nodes[i] + 1) / 2;
    const [x, y] = piecePoint(piece, at);
    if (!mirrored) all.push([at, weights[i] / 2]);
    else if (x >= 0 && y >= 0) all.push([at, (weights[i] / 2) * 4]);
  }
  return all;
}
