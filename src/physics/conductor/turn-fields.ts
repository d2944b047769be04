import { gaussLegendre } from '../../numerics/gauss-legendre.ts';
import { type NearbyPiece, nearbyPieces } from '../coil/nearby-pieces.ts';
import { passRanges } from '../coil/pass-ranges.ts';
import { isFullCircle, pieceLength, piecePoint, pieceTangent } from '../coil/piece-geometry.ts';
import type { Piece, Winding } from '../coil/types.ts';
import { windingField } from '../coil/winding-field.ts';
import type { SectionField } from './conductor-loss.ts';

/** Magnetic field of everything but the winding itself, per ampere of its current: A/m into `out`, coil frame, metres. */
export type ExternalField = (x: number, y: number, z: number, out: Float64Array) => void;

export interface TurnFieldOptions {
  /** Field of ferrite and metal nearby, or null. */
  readonly externalField: ExternalField | null;
  /** The external field has the winding's own mirror symmetry (plates centred behind it). Saves three quarters of the work. */
  readonly externalIsSymmetric: boolean;
}

export const TURN_FIELD_DEFAULTS: TurnFieldOptions = Object.freeze({ externalField: null, externalIsSymmetric: true });

/** Points over a disc: middle, and six on a circle; exact for polynomials of degree five. */
const DISC_RADIUS = Math.sqrt(2 / 3);
const WIDTH_NODES = 10;

/**
 * Field on each turn from all other turns and from outside, squared and averaged over the wire's section and length.
 *
 * @returns one entry per turn of the winding, in its order
 * Accuracy: 1 % of the mean square for touching round wires, better when apart (tests/physics/conductor).
 * Method: filaments' field at seven points of round sections, two to a piece; for traces the vector potential across the
 * width, with the trace itself and its near neighbours as flat strips.
 */
export function turnFields(winding: Winding, options: Partial<TurnFieldOptions> = TURN_FIELD_DEFAULTS): SectionField[] {
  const { externalField, externalIsSymmetric } = { ...TURN_FIELD_DEFAULTS, ...options };
  const { conductor, outline } = winding.spec;
  const rings = winding.spec.winding === 'rings';
  const mirrored = rings && outline.shape !== 'path' && (externalField === null || externalIsSymmetric);
  const field = windingField(winding, 1e-3);
  const near = conductor.kind === 'trace' ? nearbyPieces(winding, conductor.width) : null;
  const radius =
    conductor.kind === 'litz' ? conductor.bundleDiameter / 2 : conductor.kind === 'solid' ? conductor.diameter / 2 : 0;
  const outside = new Float64Array(3);
  const total = new Float64Array(3);

  return winding.turns.map((turn, index) => {
    const first = field.firstPiece[index];
    const passes = rings ? null : passRanges(turn, false);
    let length = 0;
    let centreSquare = 0;
    let meanSquare = 0;
    let potentialVariance = 0;
    turn.pieces.forEach((piece, p) => {
      const [skipFrom, skipTo] = passes ? passes.around(p) : [0, turn.pieces.length];
      for (const [at, share] of samples(piece, mirrored, rings, externalField !== null)) {
        const [x, y, dz] = piecePoint(piece, at);
        const [tx, ty, tz] = pieceTangent(piece, at);
        // Only the parts that run in the coil's plane; a spiral's stubs do not count.
        if (Math.abs(tz) > 0.5) continue;
        const weight = share * pieceLength(piece);
        /** Field at a place of the section: `across` along the in-plane normal (outwards), `up` along z. */
        const sample = (across: number, up: number): void => {
          const px = x + ty * across;
          const py = y - tx * across;
          const pz = turn.z + dz + up;
          field.at(px, py, pz, first + skipFrom, first + skipTo, total);
          if (externalField) {
            externalField(px, py, pz, outside);
            for (let k = 0; k < 3; k++) total[k] += outside[k];
          }
        };
        const square = (): number => (total[0] * ty - total[1] * tx) ** 2 + total[2] ** 2;
        length += weight;
        if (conductor.kind === 'trace') {
          sample(0, 0);
          centreSquare += weight * (total[0] * ty - total[1] * tx) ** 2;
          const neighbours = near?.at(index, p, x, y, turn.z + dz, tx, ty) ?? [];
          potentialVariance +=
            weight *
            variance(conductor.width, turn.weight, neighbours, (u) => {
              sample(u, 0);
              return total[2];
            });
          continue;
        }
        sample(0, 0);
        const middle = square();
        let mean = middle / 4;
        for (let k = 0; k < 6; k++) {
          const angle = ((k + 0.5) * Math.PI) / 3;
          sample(DISC_RADIUS * radius * Math.cos(angle), DISC_RADIUS * radius * Math.sin(angle));
          mean += square() / 8;
        }
        centreSquare += weight * middle;
        meanSquare += weight * mean;
      }
    });
    return {
      centreSquare: centreSquare / length,
      meanSquare: meanSquare / length,
      potentialVariance: potentialVariance / length,
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
  if (!rings) return [[0.5, 1]];
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

/** Mean square of (A - mean A)/mu0 across a strip's width: own share, near strips, and the field of filaments. */
function variance(
  width: number,
  share: number,
  neighbours: readonly NearbyPiece[],
  normalField: (u: number) => number,
): number {
  const { nodes, weights } = gaussLegendre(WIDTH_NODES);
  const u = Float64Array.from(nodes, (node) => (node * width) / 2);
  const h = Float64Array.from(u, normalField);
  const a = integralFromCentre(u, h);
  let mean = 0;
  for (let k = 0; k < WIDTH_NODES; k++) {
    a[k] -= (share / (2 * Math.PI)) * logStripPoint(width, u[k], 0);
    for (const { across, height, current } of neighbours) {
      const filament = Math.log(Math.hypot(u[k] - across, height));
      a[k] -= (current / (2 * Math.PI)) * (logStripPoint(width, u[k] - across, height) - filament);
    }
    mean += (weights[k] / 2) * a[k];
  }
  let square = 0;
  for (let k = 0; k < WIDTH_NODES; k++) square += (weights[k] / 2) * (a[k] - mean) ** 2;
  return square;
}

/** Mean of ln(distance) from a point to a flat strip of width `width`, at `x` across from its middle and height `z`. */
function logStripPoint(width: number, x: number, z: number): number {
  const part = (s: number): number => {
    const r2 = s * s + z * z;
    return (r2 > 0 ? (s / 2) * Math.log(r2) : 0) - s + (z > 0 ? z * Math.atan(s / z) : 0);
  };
  return (part(x + width / 2) - part(x - width / 2)) / width;
}

/** Integral from 0 to each node of the polynomial through the values at the nodes. */
function integralFromCentre(u: Float64Array, values: Float64Array): Float64Array {
  const n = u.length;
  const { nodes, weights } = gaussLegendre(Math.ceil(n / 2));
  return Float64Array.from(u, (end) => {
    let sum = 0;
    for (let i = 0; i < nodes.length; i++) {
      const s = (end * (nodes[i] + 1)) / 2;
      let value = 0;
      for (let k = 0; k < n; k++) {
        let basis = values[k];
        for (let l = 0; l < n; l++) if (l !== k) basis *= (s - u[l]) / (u[k] - u[l]);
        value += basis;
      }
      sum += (weights[i] * end * value) / 2;
    }
    return sum;
  });
}
