import { poseMatrix, transformNodes, turnsNodes } from '../nodes.ts';
import { pieceLength, piecePoint } from '../piece-geometry.ts';
import type { Pose } from '../types.ts';
import type { TurnRun } from './turn-runs.ts';

/** Points that stand for a winding in distance questions, and the box around them, in the coil's frame, metres. */
export interface WindingExtent {
  /** [n, 3] row-major: points on the first, middle and last turn of each run. */
  readonly points: Float64Array;
  readonly low: readonly [number, number, number];
  readonly high: readonly [number, number, number];
}

export function windingExtent(runs: readonly TurnRun[]): WindingExtent {
  const points: number[] = [];
  for (const run of runs) {
    const last = run.turns.length - 1;
    for (const index of new Set([0, last >> 1, last])) {
      const turn = run.turns[index]!;
      for (const piece of turn.pieces) {
        const parts = piece.kind === 'arc' ? Math.ceil(Math.abs(piece.sweep) / 0.4) : 2;
        for (let k = 0; k <= parts; k++) {
          const [x, y, rise] = piecePoint(piece, k / parts);
          points.push(x, y, turn.z + rise);
        }
      }
    }
  }
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  points.forEach((value, k) => {
    low[k % 3] = Math.min(low[k % 3]!, value);
    high[k % 3] = Math.max(high[k % 3]!, value);
  });
  return { points: Float64Array.from(points), low, high };
}

/**
 * Lower estimate of the distance between the wires of two coils: from the points of the receiver to the box around the
 * transmitter, so that a receiver inside the transmitter's box gets zero. Exact for parallel coils that overlap.
 */
export function localDistance(transmitter: WindingExtent, receiver: WindingExtent, pose: Pose): number {
  const m = poseMatrix(pose);
  const { low, high } = transmitter;
  const { points } = receiver;
  let nearest = Infinity;
  let lowX = Infinity;
  let lowY = Infinity;
  let lowZ = Infinity;
  let highX = -Infinity;
  let highY = -Infinity;
  let highZ = -Infinity;
  for (let k = 0; k < points.length; k += 3) {
    const px = points[k]!;
    const py = points[k + 1]!;
    const pz = points[k + 2]!;
    const x = m[0]! * px + m[1]! * py + m[2]! * pz + m[9]!;
    const y = m[3]! * px + m[4]! * py + m[5]! * pz + m[10]!;
    const z = m[6]! * px + m[7]! * py + m[8]! * pz + m[11]!;
    if (x < lowX) lowX = x;
    if (x > highX) highX = x;
    if (y < lowY) lowY = y;
    if (y > highY) highY = y;
    if (z < lowZ) lowZ = z;
    if (z > highZ) highZ = z;
    const dx = x < low[0] ? low[0] - x : x > high[0] ? x - high[0] : 0;
    const dy = y < low[1] ? low[1] - y : y > high[1] ? y - high[1] : 0;
    const dz = z < low[2] ? low[2] - z : z > high[2] ? z - high[2] : 0;
    const square = dx * dx + dy * dy + dz * dz;
    if (square < nearest) nearest = square;
  }
  // Between flat parallel coils the boxes' distance is the answer, free of sampling.
  if (pose.tiltX !== 0 || pose.tiltY !== 0) return Math.sqrt(nearest);
  return Math.hypot(
    Math.max(0, low[0] - highX, lowX - high[0]),
    Math.max(0, low[1] - highY, lowY - high[1]),
    Math.max(0, low[2] - highZ, lowZ - high[2]),
  );
}

/** Nodes along each wire when distances are taken between wires rather than boxes. */
const WIRE_POINTS = 60;

/**
 * Lower estimate of the distance between the wires themselves, for poses where one coil's box reaches into the other's:
 * a coil inside another's opening, or tilted across its plane. Takes some milliseconds.
 * @returns m; a quarter of the distance between sampled points where the sampling is too coarse to say more
 */
export function wireDistance(transmitter: readonly TurnRun[], receiver: readonly TurnRun[], pose: Pose): number {
  const sample = (runs: readonly TurnRun[]) => {
    const turns = runs.flatMap((run) => run.turns);
    const longest = Math.max(
      ...turns.map((turn) => turn.pieces.reduce((sum, piece) => sum + pieceLength(piece), 0) / WIRE_POINTS),
    );
    return { nodes: turnsNodes(turns, longest), spacing: longest };
  };
  const a = sample(transmitter);
  const b = sample(receiver);
  const p = a.nodes;
  const q = transformNodes(b.nodes, poseMatrix(pose));
  let least = Number.POSITIVE_INFINITY;
  for (let j = 0; j < q.count; j++) {
    for (let i = 0; i < p.count; i++) {
      const x = p.x[i]! - q.x[j]!;
      const y = p.y[i]! - q.y[j]!;
      const z = p.z[i]! - q.z[j]!;
      const square = x * x + y * y + z * z;
      if (square < least) least = square;
    }
  }
  const distance = Math.sqrt(least);
  return Math.max(distance / 4, distance - (a.spacing + b.spacing) / 2);
}
