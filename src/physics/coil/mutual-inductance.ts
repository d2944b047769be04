import { ConvergenceError, InputError } from '../../numerics/errors.ts';
import type { Estimate } from '../../numerics/estimate.ts';
import { gaussLegendre } from '../../numerics/gauss-legendre.ts';
import { MU0 } from '../constants.ts';
import { millimetres } from './coil-spec-faults.ts';
import { conductorHeight, conductorWidth } from './conductor-size.ts';
import { poseMatrix } from './nodes.ts';
import { isFullCircle, pieceLength, piecePoint } from './piece-geometry.ts';
import type { Piece, Pose, Winding } from './types.ts';
import { potentialCost, type WindingPotential, windingPotential } from './winding-potential.ts';

export interface MutualOptions {
  /**
   * Wanted error relative to the sum of the absolute contributions along the wire (for coils above each other nearly M
   * itself; it stays of that size where M passes through zero). 1e-12 to 1e-2.
   */
  readonly tolerance: number;
  /** Which coil's vector potential is integrated along the other: 'auto' takes the cheaper. */
  readonly source: 'auto' | 'a' | 'b';
}

export const MUTUAL_DEFAULTS: MutualOptions = Object.freeze({ tolerance: 1e-6, source: 'auto' });

/**
 * Mutual inductance of two windings of filaments in air at any pose, H.
 *
 * @param pose of `b` in the frame of `a`; see Pose
 * @returns value and error estimate in H; `evaluations` counts points at which the potential was evaluated
 * @throws InputError (`windings-touch`) where centre lines come closer than the conductors allow; ConvergenceError
 * Accuracy: see README.md and reference-cases/coaxial-circles, displaced-circles, rectangles, polygon-pairs.
 * Method: M = line integral over one coil of the other's vector potential. The potential is closed-form for circles and
 * straight pieces. The line is cut until no part is longer than its distance to the source, then Gauss-Legendre; whole
 * circles by the trapezoid rule where that needs fewer points. A second pass with a looser rule gives the error
 * estimate; if it is above the tolerance the rule is tightened.
 */
export function mutualInductance(
  a: Winding,
  b: Winding,
  pose: Pose,
  options: Partial<MutualOptions> = MUTUAL_DEFAULTS,
): Estimate {
  const { tolerance, source } = { ...MUTUAL_DEFAULTS, ...options };
  if (!Object.values(pose).every(Number.isFinite)) {
    throw new InputError({
      code: 'not-finite',
      path: 'placement',
      required: 'finite numbers',
      received: JSON.stringify(pose),
    });
  }
  const matrix = poseMatrix(pose);
  const aIsSource =
    source === 'a' || (source === 'auto' && potentialCost(a) * b.wireLength <= potentialCost(b) * a.wireLength);
  const [from, along] = aIsSource ? [a, b] : [b, a];
  const move = aIsSource ? matrix : inverseMotion(matrix);
  const floor = clearance(a) + clearance(b);

  let aim = tolerance ** 0.45;
  let coarse = integrate(windingPotential(from, aim), along, move, aim, floor);
  let evaluations = coarse.points;
  for (const power of [0.75, 1.05, 1.35, 1.7]) {
    const finer = Math.max(tolerance ** power, 1e-16);
    const fine = integrate(windingPotential(from, finer), along, move, finer, floor);
    evaluations += fine.points;
    // Each pass's error is proportional to its aim (bounds measured in the tests); thirty covers the spread of the factor.
    const error =
      Math.max((30 * Math.abs(fine.sum - coarse.sum) * finer) / aim, 1e-3 * finer * fine.scale) + 4e-15 * fine.scale;
    if (error <= tolerance * fine.scale) {
      const unit = MU0 / (4 * Math.PI);
      return { value: unit * fine.sum, errorEstimate: unit * error, evaluations };
    }
    coarse = fine;
    aim = finer;
  }
  throw new ConvergenceError('mutual-inductance', 'The mutual inductance did not reach its tolerance.', {
    tolerance,
    evaluations,
  });
}

interface Integral {
  readonly sum: number;
  /** Sum of absolute contributions. */
  readonly scale: number;
  readonly points: number;
}

function integrate(source: WindingPotential, along: Winding, move: Float64Array, aim: number, floor: number): Integral {
  const digits = Math.log(20 / aim);
  // Parts no longer than their distance to the source: Bernstein ellipse 2 + sqrt 3.
  const order = Math.max(2, Math.ceil(digits / (2 * Math.log(2 + Math.sqrt(3)))));
  const rule = gaussLegendre(order);
  const out = new Float64Array(3);
  let sum = 0;
  let scale = 0;
  let points = 0;
  const add = (piece: Piece, z: number, at: number, weight: number) => {
    const [px, py, dz] = piecePoint(piece, at);
    const pz = z + dz;
    let tx: number;
    let ty: number;
    let tz = 0;
    if (piece.kind === 'arc') {
      tx = -(py - piece.cy) * piece.sweep * weight;
      ty = (px - piece.cx) * piece.sweep * weight;
    } else {
      tx = (piece.x1 - piece.x0) * weight;
      ty = (piece.y1 - piece.y0) * weight;
      tz = ((piece.dz1 ?? 0) - (piece.dz0 ?? 0)) * weight;
    }
    source.at(
      move[0] * px + move[1] * py + move[2] * pz + move[9],
      move[3] * px + move[4] * py + move[5] * pz + move[10],
      move[6] * px + move[7] * py + move[8] * pz + move[11],
      out,
    );
    const share =
      out[0] * (move[0] * tx + move[1] * ty + move[2] * tz) +
      out[1] * (move[3] * tx + move[4] * ty + move[5] * tz) +
      out[2] * (move[6] * tx + move[7] * ty + move[8] * tz);
    sum += share;
    scale += Math.abs(share);
    points++;
  };

  for (const turn of along.turns) {
    for (const piece of turn.pieces) {
      const length = pieceLength(piece);
      const cuts: number[] = [0];
      let nearest = Number.POSITIVE_INFINITY;
      const distanceAt = (at: number): number => {
        const [px, py, dz] = piecePoint(piece, at);
        const pz = turn.z + dz;
        const distance = source.distance(
          move[0] * px + move[1] * py + move[2] * pz + move[9],
          move[3] * px + move[4] * py + move[5] * pz + move[10],
          move[6] * px + move[7] * py + move[8] * pz + move[11],
        );
        if (distance < floor) throw touching(distance, floor);
        nearest = Math.min(nearest, distance);
        return distance;
      };
      const cut = (from: number, to: number): void => {
        const middle = (from + to) / 2;
        const distance = distanceAt(middle);
        if (needed(piece, (to - from) * length) <= distance) {
          cuts.push(to);
          distanceAt(to);
          return;
        }
        cut(from, middle);
        cut(middle, to);
      };
      cut(0, 1);
      if (isFullCircle(piece)) {
        // Middles and ends are a quarter of their distance apart from any other point of the circle at most.
        const height = Math.log1p((0.75 * nearest * 2 * Math.PI) / length);
        const even = Math.max(8, Math.ceil(digits / height));
        if (even <= order * (cuts.length - 1)) {
          for (let i = 0; i < even; i++) add(piece, turn.z, i / even, turn.weight / even);
          continue;
        }
      }
      for (let part = 1; part < cuts.length; part++) {
        const from = cuts[part - 1];
        const width = cuts[part] - from;
        for (let i = 0; i < order; i++) {
          add(piece, turn.z, from + (width * (rule.nodes[i] + 1)) / 2, (turn.weight * width * rule.weights[i]) / 2);
        }
      }
    }
  }
  return { sum, scale, points };
}

/** Distance from its middle that a part of this length needs for the Bernstein ellipse 2 + sqrt 3; see winding-potential. */
function needed(piece: Piece, length: number): number {
  return piece.kind === 'line' ? length : piece.radius * Math.expm1(length / piece.radius);
}

/** Half the lesser of a conductor's two dimensions: centre lines nearer than two of these cut through copper. */
function clearance(winding: Winding): number {
  return Math.min(conductorWidth(winding.spec.conductor), conductorHeight(winding.spec.conductor)) / 2;
}

function touching(distance: number, floor: number): InputError {
  return new InputError({
    code: 'windings-touch',
    path: 'placement',
    required: `a pose at which the windings' centre lines stay ${millimetres(floor)} or more apart`,
    received: `centre lines ${millimetres(distance)} apart: the conductors touch or cross`,
    hint: 'Raise the gap, or reduce offset and tilt.',
  });
}

/** R^T and -R^T t for a motion of twelve numbers. */
function inverseMotion(m: Float64Array): Float64Array {
  const [x, y, z] = [m[9], m[10], m[11]];
  return Float64Array.of(
    m[0],
    m[3],
    m[6],
    m[1],
    m[4],
    m[7],
    m[2],
    m[5],
    m[8],
    -(m[0] * x + m[3] * y + m[6] * z),
    -(m[1] * x + m[4] * y + m[7] * z),
    -(m[2] * x + m[5] * y + m[8] * z),
  );
}
