/** What a turn or a tilt does to the plates' part of the link, from direct solves at a few attitudes. */

import type { Design } from '../../design/types.ts';
import {
  type ChebyshevTensor,
  evaluateChebyshevTensor,
  fitChebyshevTensor,
  tensorPoints,
} from '../../numerics/chebyshev.ts';
import { type LinkContext, linkContext } from '../link/link-context.ts';
import { type LinkModel, poseAt } from '../link/link-model.ts';
import { PLATE_OUTPUTS, packChange, unpackChange } from '../link/plates.ts';
import type { LinkOnTop } from '../place/offset-grid.ts';
import { type AttitudeStep, attitudeRange } from './attitude-range.ts';

/** Nodes along x and y over the map's square: one for each so much of the larger side's half, fewest and most. */
const NODE_SHARE = 0.27;
const FEWEST = 7;
const MOST = 13;
/** The plates' numbers, then the mutual inductance in air. */
const OUTPUTS = PLATE_OUTPUTS + 1;
/** Turns at which it is solved, in parts of the largest; none is known to change nothing. */
const TURNS = [-1, -0.5, 0.5, 1] as const;
const LEVEL: AttitudeStep = Object.freeze({ yaw: 0, tiltX: 0, tiltY: 0 });

/** Changes against the design's own attitude over the map's square, at the design's own gap. Plain data. */
export interface AttitudeChange {
  /** Half-side of the square, m. */
  readonly half: number;
  readonly turn: number;
  /** Plates only (the coils' own part is exact for every turn), at `TURNS`; empty without plates or turn. */
  readonly turned: readonly ChebyshevTensor[];
  /** Plates, and the coils' mutual inductance; each at its tilt. */
  readonly tilted: readonly (AttitudeStep & { readonly tensor: ChebyshevTensor })[];
}

/** An odd number of nodes, so that the middle is one. */
function nodesFor({ transmitter, receiver }: LinkContext, half: number): number {
  const sizes = [transmitter.winding, receiver.winding].flatMap(({ halfWidth, halfHeight }) => [halfWidth, halfHeight]);
  const count = 2 * Math.ceil(half / (NODE_SHARE * Math.max(...sizes)) - 1e-9) + 1;
  return Math.min(MOST, Math.max(FEWEST, count));
}

/** What is solved: attitudes, the level one first, and each pose once. */
interface Sites {
  readonly half: number;
  readonly count: number;
  readonly attitudes: readonly AttitudeStep[];
  /** x y yaw tiltX tiltY of the poses that must be solved, [n, 5], m and rad, against the design's attitude. */
  readonly poses: readonly (readonly number[])[];
  /** Row of `poses` for each attitude and node. */
  readonly rows: Int32Array;
}

/** @param turn the largest turn of the maps, rad */
function sitesOf(design: Design, model: LinkModel, turn: number): Sites {
  const { domain, even } = model;
  const half = Math.min(domain.halfX, domain.halfY);
  const { tiltX, tiltY } = attitudeRange(design);
  const count = nodesFor(linkContext(design), half);
  const plates = model.tensor !== null;
  const attitudes: AttitudeStep[] = [LEVEL];
  if (plates && turn > 0) for (const share of TURNS) attitudes.push({ ...LEVEL, yaw: share * turn });
  if (tiltX > 0) for (const sign of [-1, 1]) attitudes.push({ ...LEVEL, tiltX: sign * tiltX });
  if (tiltY > 0) for (const sign of [-1, 1]) attitudes.push({ ...LEVEL, tiltY: sign * tiltY });
  const nodes = tensorPoints([-half, -half], [half, half], [count, count]);
  const index = new Map<string, number>();
  const poses: number[][] = [];
  const rows = new Int32Array((attitudes.length * nodes.length) / 2);
  attitudes.forEach(({ yaw, tiltX: a, tiltY: b }, k) => {
    for (let n = 0; n < nodes.length / 2; n += 1) {
      const [x, y] = [nodes[2 * n]!, nodes[2 * n + 1]!];
      // A mirror of a mirrored pair changes nothing: the mirror in x turns yaw and the tilt about y round.
      const images = [[x, y, yaw, a, b]];
      if (even.x) images.push([-x, y, -yaw, a, -b]);
      if (even.y) images.push(...images.map(([px, py, turned, s, t]) => [px!, -py!, -turned!, -s!, t!]));
      const text = images.map((image) => image.map((value) => Math.round(1e9 * value) + 0).join()).sort()[0]!;
      const known = index.get(text);
      rows[(k * nodes.length) / 2 + n] = known ?? poses.length;
      if (known !== undefined) continue;
      index.set(text, poses.length);
      poses.push([x, y, yaw, a, b]);
    }
  });
  return { half, count, attitudes, poses, rows };
}

/** Number of poses to be solved. @param turn the largest turn of the maps, rad */
export function attitudePoseCount(design: Design, model: LinkModel, turn: number): number {
  return sitesOf(design, model, turn).poses.length;
}

/** Solves poses `from` to `to` on the coarse grids: one chunk of work, some milliseconds a pose. @returns [to - from, outputs] */
export function solveAttitudes(design: Design, model: LinkModel, turn: number, from: number, to: number): Float64Array {
  const context = linkContext(design);
  const { attitude } = model;
  const poses = sitesOf(design, model, turn).poses.slice(from, to);
  const out = new Float64Array(poses.length * OUTPUTS);
  poses.forEach(([x, y, yaw, tiltX, tiltY], k) => {
    const turned = { yaw: attitude.yaw + yaw!, tiltX: attitude.tiltX + tiltX!, tiltY: attitude.tiltY + tiltY! };
    const pose = poseAt(context, turned, x!, y!, design.placement.gapMm / 1e3);
    const row = out.subarray(k * OUTPUTS, (k + 1) * OUTPUTS);
    if (context.plates) packChange(context.plates.at(pose, 'coarse'), row.subarray(0, PLATE_OUTPUTS));
    row[PLATE_OUTPUTS] = context.kernel.mutual(pose).value;
  });
  return out;
}

/** The change from the values of all poses, in their order. */
export function assembleAttitudes(
  design: Design,
  model: LinkModel,
  turn: number,
  values: Float64Array,
): AttitudeChange {
  const { half, count, attitudes, rows } = sitesOf(design, model, turn);
  const nodes = count * count;
  const tensorOf = (k: number): ChebyshevTensor => {
    const change = new Float64Array(nodes * OUTPUTS);
    for (let n = 0; n < nodes; n += 1)
      for (let j = 0; j < OUTPUTS; j += 1)
        change[n * OUTPUTS + j] = values[rows[k * nodes + n]! * OUTPUTS + j]! - values[rows[n]! * OUTPUTS + j]!;
    // The map has the coils' own part for every turn, exactly.
    if (attitudes[k]!.yaw !== 0) for (let n = 0; n < nodes; n += 1) change[n * OUTPUTS + PLATE_OUTPUTS] = 0;
    return fitChebyshevTensor(change, [-half, -half], [half, half], [count, count], OUTPUTS);
  };
  const tensors = attitudes.map((attitude, k) => ({ ...attitude, tensor: tensorOf(k) })).slice(1);
  return {
    half,
    turn,
    turned: tensors.filter(({ yaw }) => yaw !== 0).map(({ tensor }) => tensor),
    tilted: tensors.filter(({ yaw }) => yaw === 0),
  };
}

/**
 * What a turn and a tilt add together: the polynomial of fourth degree in the turn through the solved ones, and the tilt as
 * solved (a tilt between is taken in proportion to its square's and its own share). Turn and tilt count as independent, and
 * the design's own gap stands for gaps near it; what that leaves is for `checkWorst` to find.
 * @returns null where nothing changes
 */
export function attitudePart(change: AttitudeChange, { yaw, tiltX, tiltY }: AttitudeStep): LinkOnTop | null {
  const shares: (readonly [number, ChebyshevTensor])[] = [];
  if (change.turned.length > 0 && yaw !== 0) {
    const u = Math.max(-1, Math.min(1, yaw / change.turn));
    const nodes = [...TURNS, 0];
    TURNS.forEach((own, k) => {
      const weight = nodes.reduce<number>((p, other) => (other === own ? p : (p * (u - other)) / (own - other)), 1);
      shares.push([weight, change.turned[k]!]);
    });
  }
  for (const [axis, tilt] of [
    ['tiltX', tiltX],
    ['tiltY', tiltY],
  ] as const) {
    const about = change.tilted.filter((entry) => entry[axis] !== 0);
    if (tilt === 0 || about.length === 0) continue;
    for (const entry of about) {
      const u = tilt / entry[axis];
      shares.push([(u * (u + 1)) / 2, entry.tensor]);
    }
  }
  const first = shares[0]?.[1];
  if (!first) return null;
  const coefficients = new Float64Array(first.coefficients.length);
  for (const [weight, tensor] of shares)
    for (let k = 0; k < coefficients.length; k += 1) coefficients[k]! += weight * tensor.coefficients[k]!;
  const sum: ChebyshevTensor = { ...first, coefficients };
  const out = new Float64Array(OUTPUTS);
  return (x, y) => {
    evaluateChebyshevTensor(sum, [x, y], out);
    return { airM: out[PLATE_OUTPUTS]!, change: unpackChange(out, [0, 0, 0]) };
  };
}
