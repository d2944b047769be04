import { gaussLegendre } from '../../numerics/gauss-legendre.ts';
import { isFullCircle, pieceLength } from './piece-geometry.ts';
import type { FilamentNodes, Piece, Pose, Turn, Winding } from './types.ts';

/** Number of nodes that a piece gets at a node spacing: full circles at least 8, other pieces at least 2. */
export function pieceNodeCount(piece: Piece, spacing: number): number {
  const across = Math.ceil(pieceLength(piece) / spacing);
  return isFullCircle(piece) ? Math.max(8, across) : Math.max(2, across + 1);
}

/**
 * Quadrature nodes on all centre lines of a winding, in the coil's frame.
 *
 * @param spacing mean distance between nodes along the wire, m
 * Order: turn by turn, piece by piece along each. The line element carries the turn's weight (1/filars).
 * Full circles take the trapezoid rule (error falls as exp(-2 pi d / spacing) at distance d), all other pieces
 * Gauss-Legendre (about exp(-4 d / spacing)).
 */
export function windingNodes(winding: Winding, spacing: number): FilamentNodes {
  return turnsNodes(winding.turns, spacing);
}

/** The same for some turns. */
export function turnsNodes(turns: readonly Turn[], spacing: number): FilamentNodes {
  let count = 0;
  for (const turn of turns) for (const piece of turn.pieces) count += pieceNodeCount(piece, spacing);
  const nodes = allocate(count);
  let at = 0;
  for (const turn of turns) {
    for (const piece of turn.pieces) {
      const n = pieceNodeCount(piece, spacing);
      fillPiece(piece, turn.z, turn.weight, n, at, nodes);
      at += n;
    }
  }
  return nodes;
}

/** Writes one node: the place at share `s` of a piece, and its element of length times `w`. */
export function putNode(piece: Piece, z: number, s: number, w: number, k: number, out: FilamentNodes): void {
  if (piece.kind === 'arc') {
    const angle = piece.start + piece.sweep * s;
    const cos = Math.cos(angle);
    const sin = Math.sin(angle);
    const element = piece.radius * piece.sweep * w;
    out.x[k] = piece.cx + piece.radius * cos;
    out.y[k] = piece.cy + piece.radius * sin;
    out.z[k] = z + (piece.dz ?? 0);
    out.dx[k] = -sin * element;
    out.dy[k] = cos * element;
    out.dz[k] = 0;
  } else {
    const dz0 = piece.dz0 ?? 0;
    const rise = (piece.dz1 ?? 0) - dz0;
    out.x[k] = piece.x0 + (piece.x1 - piece.x0) * s;
    out.y[k] = piece.y0 + (piece.y1 - piece.y0) * s;
    out.z[k] = z + dz0 + rise * s;
    out.dx[k] = (piece.x1 - piece.x0) * w;
    out.dy[k] = (piece.y1 - piece.y0) * w;
    out.dz[k] = rise * w;
  }
}

/** Writes the `n` nodes of one piece at index `at` of `out`. */
export function fillPiece(piece: Piece, z: number, weight: number, n: number, at: number, out: FilamentNodes): void {
  const full = isFullCircle(piece);
  const rule = full ? null : gaussLegendre(n);
  for (let i = 0; i < n; i++) {
    const s = rule ? (rule.nodes[i] + 1) / 2 : (i + 0.5) / n;
    putNode(piece, z, s, weight * (rule ? rule.weights[i] / 2 : 1 / n), at + i, out);
  }
}

/**
 * The motion of a pose as twelve numbers: rotation Rx(tiltX) Ry(tiltY) Rz(yaw), row-major, then the translation.
 * A receiver point p goes to R p + t.
 */
export function poseMatrix(pose: Pose): Float64Array {
  const ca = Math.cos(pose.tiltX);
  const sa = Math.sin(pose.tiltX);
  const cb = Math.cos(pose.tiltY);
  const sb = Math.sin(pose.tiltY);
  const cc = Math.cos(pose.yaw);
  const sc = Math.sin(pose.yaw);
  return Float64Array.of(
    cb * cc,
    -cb * sc,
    sb,
    ca * sc + sa * sb * cc,
    ca * cc - sa * sb * sc,
    -sa * cb,
    sa * sc - ca * sb * cc,
    sa * cc + ca * sb * sc,
    ca * cb,
    pose.x,
    pose.y,
    pose.z,
  );
}

/**
 * Nodes moved by a `poseMatrix`.
 *
 * @param out written and returned; may be `nodes` itself; allocated where absent
 */
export function transformNodes(nodes: FilamentNodes, matrix: Float64Array, out?: FilamentNodes): FilamentNodes {
  const target = out ?? allocate(nodes.count);
  const [a, b, c, d, e, f, g, h, i, tx, ty, tz] = matrix as unknown as readonly [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  for (let k = 0; k < nodes.count; k++) {
    const x = nodes.x[k];
    const y = nodes.y[k];
    const z = nodes.z[k];
    target.x[k] = a * x + b * y + c * z + tx;
    target.y[k] = d * x + e * y + f * z + ty;
    target.z[k] = g * x + h * y + i * z + tz;
    const u = nodes.dx[k];
    const v = nodes.dy[k];
    const w = nodes.dz[k];
    target.dx[k] = a * u + b * v + c * w;
    target.dy[k] = d * u + e * v + f * w;
    target.dz[k] = g * u + h * v + i * w;
  }
  return target;
}

function allocate(count: number): FilamentNodes {
  return {
    count,
    x: new Float64Array(count),
    y: new Float64Array(count),
    z: new Float64Array(count),
    dx: new Float64Array(count),
    dy: new Float64Array(count),
    dz: new Float64Array(count),
  };
}
