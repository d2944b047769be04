import { filamentRule } from '../../src/physics/coil/kernel/filament-rule.ts';
import { scalarEngine } from '../../src/physics/coil/kernel/neumann-engine.ts';
import { moveTargets, neumannSum, nodeSource, targetRoom } from '../../src/physics/coil/kernel/node-blocks.ts';
import { turnRuns } from '../../src/physics/coil/kernel/turn-runs.ts';
import { poseMatrix } from '../../src/physics/coil/nodes.ts';
import { pieceLength, piecePoint } from '../../src/physics/coil/piece-geometry.ts';
import type { Pose, Winding } from '../../src/physics/coil/types.ts';

/** Straight chords along every turn, `perTurn` of them: midpoints and vectors, rows x y z dx dy. */
function chords(winding: Winding, perTurn: number): { readonly count: number; readonly rows: Float64Array } {
  const list: number[][] = [];
  for (const { pieces, z } of winding.turns) {
    const length = pieces.reduce((sum, piece) => sum + pieceLength(piece), 0);
    for (const piece of pieces) {
      const count = Math.max(1, Math.round((perTurn * pieceLength(piece)) / length));
      for (let k = 0; k < count; k++) {
        const [x0, y0] = piecePoint(piece, k / count);
        const [x1, y1] = piecePoint(piece, (k + 1) / count);
        list.push([(x0 + x1) / 2, (y0 + y1) / 2, z, x1 - x0, y1 - y0]);
      }
    }
  }
  const rows = new Float64Array(5 * list.length);
  list.forEach((chord, k) => {
    chord.forEach((value, row) => {
      rows[row * list.length + k] = value;
    });
  });
  return { count: list.length, rows };
}

/** The plain chord double sum over all turns, H: what a script would do. The receiver is parallel to the transmitter. */
export function plainChordSum(a: Winding, b: Winding, perTurn: number): { pairs: number; at: (pose: Pose) => number } {
  const p = chords(a, perTurn);
  const q = chords(b, perTurn);
  const n = p.count;
  const m = q.count;
  return {
    pairs: n * m,
    at({ x, y, z, yaw }) {
      const cos = Math.cos(yaw);
      const sin = Math.sin(yaw);
      let total = 0;
      for (let j = 0; j < m; j++) {
        const rx = cos * q.rows[j]! - sin * q.rows[m + j]! + x;
        const ry = sin * q.rows[j]! + cos * q.rows[m + j]! + y;
        const rz = q.rows[2 * m + j]! + z;
        const ru = cos * q.rows[3 * m + j]! - sin * q.rows[4 * m + j]!;
        const rv = sin * q.rows[3 * m + j]! + cos * q.rows[4 * m + j]!;
        for (let i = 0; i < n; i++) {
          const dx = p.rows[i]! - rx;
          const dy = p.rows[n + i]! - ry;
          const dz = p.rows[2 * n + i]! - rz;
          total += (p.rows[3 * n + i]! * ru + p.rows[4 * n + i]! * rv) / Math.sqrt(dx * dx + dy * dy + dz * dz);
        }
      }
      return 1e-7 * total;
    },
  };
}

/** The tuned Neumann sum: Gauss and trapezoid nodes, Gauss rule over the turns, plain JavaScript in double precision. */
export function tunedSum(
  a: Winding,
  b: Winding,
  distance: number,
  lineEffort: number,
  turnEffort: number,
): { pairs: number; at: (pose: Pose) => number } {
  const settings = { distance: () => distance, lineEffort, turnEffort, share: 1 };
  const source = filamentRule(turnRuns(a), settings);
  const target = filamentRule(turnRuns(b), settings);
  const blocks = nodeSource(source);
  const room = targetRoom(target.nodes, blocks.loose !== null);
  return {
    pairs: source.nodes.count * target.nodes.count,
    at(pose) {
      moveTargets(room, poseMatrix(pose));
      return 1e-7 * neumannSum(scalarEngine, blocks, room, 'double');
    },
  };
}

/** The cheapest tuned sum that keeps `tolerance` (share of the first value) at all probe poses. */
export function cheapestTunedSum(
  a: Winding,
  b: Winding,
  distance: number,
  poses: readonly Pose[],
  exact: readonly number[],
  tolerance: number,
): ReturnType<typeof tunedSum> & { readonly error: number } {
  const efforts: [number, number, number][] = [];
  for (let line = 3; line <= 20; line += 0.5) {
    for (let turn = 2; turn <= 18; turn += 0.5) efforts.push([line, turn, tunedSum(a, b, distance, line, turn).pairs]);
  }
  efforts.sort((p, q) => p[2] - q[2]);
  let failed = 0;
  for (const [line, turn, pairs] of efforts) {
    if (pairs === failed) continue;
    const sum = tunedSum(a, b, distance, line, turn);
    let error = 0;
    for (let k = 0; k < poses.length && error <= tolerance; k++) {
      error = Math.max(error, Math.abs(sum.at(poses[k]!) - exact[k]!) / Math.abs(exact[0]!));
    }
    if (error <= tolerance) return { ...sum, error };
    failed = pairs;
  }
  throw new Error(`no tuned sum reaches ${tolerance}`);
}
