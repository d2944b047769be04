import { conductorWidth } from '../physics/coil/conductor-size.ts';
import type { Piece, Turn, Winding } from '../physics/coil/types.ts';

const ARC_STEP = Math.PI / 36;

function pushPiece(out: number[], piece: Piece, outwards: number): void {
  if (piece.kind === 'line') {
    const length = Math.hypot(piece.x1 - piece.x0, piece.y1 - piece.y0);
    if (length === 0) return;
    // Counter-clockwise: outwards is to the right of the direction of travel.
    const nx = ((piece.y1 - piece.y0) / length) * outwards;
    const ny = (-(piece.x1 - piece.x0) / length) * outwards;
    out.push(piece.x0 + nx, piece.y0 + ny, piece.x1 + nx, piece.y1 + ny);
    return;
  }
  const radius = piece.radius + Math.sign(piece.sweep) * outwards;
  const steps = Math.max(1, Math.ceil(Math.abs(piece.sweep) / ARC_STEP));
  for (let i = 0; i <= steps; i += 1) {
    const angle = piece.start + (piece.sweep * i) / steps;
    out.push(piece.cx + radius * Math.cos(angle), piece.cy + radius * Math.sin(angle));
  }
}

/**
 * A turn's centre line moved outwards by `outwardsMm` (inwards when negative), as a closed polyline for drawing.
 * @returns flat x y in mm; the last point joins the first
 */
export function turnEdgeMm(turn: Turn, outwardsMm: number): Float64Array {
  const out: number[] = [];
  for (const piece of turn.pieces) pushPiece(out, piece, outwardsMm / 1000);
  return Float64Array.from(out, (metres) => metres * 1000);
}

/** Outer and inner edge of a winding in its own plane, closed polylines, flat x y in mm. */
export interface WindingOutline {
  readonly outerMm: Float64Array;
  readonly innerMm: Float64Array;
  readonly halfWidthMm: number;
  readonly halfHeightMm: number;
}

/** Directions in which the edge of a spiral is looked for. */
const DIRECTIONS = 360;

/**
 * The outer or inner edge of a wire that runs round the middle many times: in each direction its farthest or nearest
 * crossing. Null where some direction meets no wire, as from the middle of a path that does not run round it.
 */
function edgeOfSpiral(line: Float64Array, side: 'outer' | 'inner'): Float64Array | null {
  const count = line.length / 2;
  const edge = new Float64Array(2 * DIRECTIONS);
  for (let d = 0; d < DIRECTIONS; d += 1) {
    const angle = (2 * Math.PI * d) / DIRECTIONS;
    const [ux, uy] = [Math.cos(angle), Math.sin(angle)];
    let found = Number.NaN;
    for (let i = 0; i < count; i += 1) {
      const j = (i + 1) % count;
      const [x0, y0, x1, y1] = [line[2 * i], line[2 * i + 1], line[2 * j], line[2 * j + 1]];
      const [above0, above1] = [ux * y0 - uy * x0, ux * y1 - uy * x1];
      if (above0 < 0 === above1 < 0) continue;
      const t = above0 / (above0 - above1);
      const r = ux * (x0 + t * (x1 - x0)) + uy * (y0 + t * (y1 - y0));
      if (r > 0 && !(side === 'outer' ? r <= found : r >= found)) found = r;
    }
    if (Number.isNaN(found)) return null;
    edge[2 * d] = found * ux;
    edge[2 * d + 1] = found * uy;
  }
  return edge;
}

/** Edges as they are drawn: of a spiral that around all of it, not the wire itself, which would hide what it lies on. */
export function windingOutline(winding: Winding): WindingOutline {
  const half = (conductorWidth(winding.spec.conductor) * 1000) / 2;
  const perLayer = winding.turns.filter((turn) => turn.z === winding.turns[0].z);
  const outer = turnEdgeMm(perLayer[0], half);
  const inner = turnEdgeMm(perLayer[perLayer.length - 1], -half);
  const spiral = winding.spec.winding === 'spiral';
  return {
    outerMm: (spiral ? edgeOfSpiral(outer, 'outer') : null) ?? outer,
    innerMm: (spiral ? edgeOfSpiral(inner, 'inner') : null) ?? inner,
    halfWidthMm: winding.halfWidth * 1000,
    halfHeightMm: winding.halfHeight * 1000,
  };
}

/** Where a winding's conductors cross the plane y = 0 of its own frame: flat x z, mm, one pair for each crossing. */
export function sectionMm(winding: Winding): Float64Array {
  const out: number[] = [];
  for (const turn of winding.turns) {
    const line: number[] = [];
    for (const piece of turn.pieces) pushPiece(line, piece, 0);
    const count = line.length / 2;
    for (let i = 0; i < count; i += 1) {
      const j = (i + 1) % count;
      const y0 = line[2 * i + 1];
      const y1 = line[2 * j + 1];
      // Half-open test: a vertex on the plane counts once.
      if (y0 < 0 === y1 < 0) continue;
      const t = y0 / (y0 - y1);
      out.push((line[2 * i] + t * (line[2 * j] - line[2 * i])) * 1000, turn.z * 1000);
    }
  }
  return Float64Array.from(out);
}
