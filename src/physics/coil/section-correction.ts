import type { Estimate } from '../../numerics/estimate.ts';
import { gaussLegendre } from '../../numerics/gauss-legendre.ts';
import { MU0 } from '../constants.ts';
import type { CrossSection } from './cross-section.ts';
import { logStripMeanDistance } from './mean-distance.ts';
import { passRanges } from './pass-ranges.ts';
import { pieceLength, piecePoint, pieceTangent } from './piece-geometry.ts';
import type { Piece, Winding } from './types.ts';
import { windingField } from './winding-field.ts';

/** Neighbours farther than this many widths act as filaments, to 2e-4 of their share. */
const NEAR_WIDTHS = 8;

/**
 * What the sections of neighbouring conductors add to the filaments' inductance, H, for windings that are not circular
 * rings.
 * Round wires: (a^2/4) times the integral over all bends of curvature times axial flux density of all other turns; the
 * general form of the ring's (a^2/8)(1/r) dM/dr. Strips: for each piece and each near parallel neighbour,
 * -(mu0/2pi) length (ln of mean distance - ln of distance).
 *
 * @param mirrored the winding is symmetric about both axes, a quarter of it is enough
 */
export function sectionCorrection(winding: Winding, section: CrossSection, mirrored: boolean): Estimate {
  return section.kind === 'round' ? bends(winding, section.radius, mirrored) : strips(winding, section.width);
}

function bends(winding: Winding, radius: number, mirrored: boolean): Estimate {
  const field = windingField(winding, 1e-3);
  const out = new Float64Array(3);
  const { nodes, weights } = gaussLegendre(2);
  const rings = winding.spec.winding === 'rings';
  let value = 0;
  let largest = 0;
  let evaluations = 0;
  winding.turns.forEach((turn, index) => {
    const first = field.firstPiece[index];
    const passes = rings ? null : passRanges(turn, false);
    turn.pieces.forEach((piece, p) => {
      if (piece.kind !== 'arc') return;
      const [mx, my] = piecePoint(piece, 0.5);
      if (mirrored && (mx < 0 || my < 0)) return;
      const [from, to] = passes ? passes.around(p) : [0, turn.pieces.length];
      for (let i = 0; i < 2; i++) {
        const [x, y, dz] = piecePoint(piece, (nodes[i] + 1) / 2);
        field.at(x, y, turn.z + dz, first + from, first + to, out);
        const share = ((mirrored ? 4 : 1) * (turn.weight * piece.sweep * weights[i])) / 2;
        value += share * out[2];
        largest += (Math.abs(share) * radius ** 2) / piece.radius;
        evaluations++;
      }
    });
  });
  const unit = (MU0 * radius ** 2) / 4;
  // Left out: the own share's curvature beyond what the softened kernel holds, about 0.1 (a/R)^2 mu0 R per radian / 2 pi.
  return {
    value: unit * value,
    errorEstimate: 0.05 * Math.abs(unit * value) + 0.02 * MU0 * largest,
    evaluations,
  };
}

function strips(winding: Winding, width: number): Estimate {
  interface Side {
    readonly piece: Piece;
    readonly turn: number;
    readonly index: number;
    readonly z: number;
    readonly weight: number;
    readonly length: number;
    readonly middle: readonly [number, number, number];
    readonly tangent: readonly [number, number, number];
  }
  const sides: Side[] = winding.turns.flatMap((turn, number) =>
    turn.pieces.map((piece, index) => ({
      piece,
      turn: number,
      index,
      z: turn.z,
      weight: turn.weight,
      length: pieceLength(piece),
      middle: piecePoint(piece, 0.5),
      tangent: pieceTangent(piece, 0.5),
    })),
  );
  const spiral = winding.spec.winding === 'spiral';
  const passes = winding.turns.map((turn) => (spiral ? passRanges(turn, false) : null));
  let value = 0;
  let evaluations = 0;
  for (const p of sides) {
    if (Math.abs(p.tangent[2]) > 0.5) continue;
    const [x, y] = p.middle;
    const z = p.z + p.middle[2];
    for (const q of sides) {
      if (q.turn === p.turn && (!spiral || passes[p.turn]?.same(p.index, q.index))) continue;
      if (Math.hypot(x - q.middle[0], y - q.middle[1]) > q.length / 2 + NEAR_WIDTHS * width) continue;
      const height = Math.abs(z - q.z - q.middle[2]);
      const across = beside(q.piece, x, y);
      if (across === null || Math.hypot(across.distance, height) > NEAR_WIDTHS * width) continue;
      const along = p.tangent[0] * across.tx + p.tangent[1] * across.ty;
      const change =
        logStripMeanDistance(width, across.distance, height) - Math.log(Math.hypot(across.distance, height));
      value -= (MU0 / (2 * Math.PI)) * p.weight * q.weight * p.length * along * change;
      evaluations++;
    }
  }
  return { value, errorEstimate: 0.1 * Math.abs(value), evaluations };
}

/** Distance and direction of a piece where the perpendicular from a point meets it; null where it does not. */
function beside(piece: Piece, x: number, y: number): { distance: number; tx: number; ty: number } | null {
  if (piece.kind === 'line') {
    const length = Math.hypot(piece.x1 - piece.x0, piece.y1 - piece.y0);
    if (length < 1e-12) return null;
    const tx = (piece.x1 - piece.x0) / length;
    const ty = (piece.y1 - piece.y0) / length;
    const along = (x - piece.x0) * tx + (y - piece.y0) * ty;
    // Half open, so that a point beside the joint of two pieces counts once.
    if (along < 0 || along >= length) return null;
    return { distance: Math.abs((x - piece.x0) * ty - (y - piece.y0) * tx), tx, ty };
  }
  const px = x - piece.cx;
  const py = y - piece.cy;
  const rho = Math.hypot(px, py);
  let turn = (Math.atan2(py, px) - piece.start) * Math.sign(piece.sweep);
  turn -= 2 * Math.PI * Math.floor(turn / (2 * Math.PI));
  if (turn >= Math.abs(piece.sweep)) return null;
  const sign = Math.sign(piece.sweep);
  return { distance: Math.abs(rho - piece.radius), tx: (-sign * py) / rho, ty: (sign * px) / rho };
}
