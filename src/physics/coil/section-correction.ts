import type { Estimate } from '../../numerics/estimate.ts';
import { gaussLegendre } from '../../numerics/gauss-legendre.ts';
import { MU0 } from '../constants.ts';
import type { CrossSection } from './cross-section.ts';
import { logStripMeanDistance } from './mean-distance.ts';
import { nearbyPieces } from './nearby-pieces.ts';
import { passRanges } from './pass-ranges.ts';
import { pieceLength, piecePoint, pieceTangent } from './piece-geometry.ts';
import type { Winding } from './types.ts';
import { windingField } from './winding-field.ts';

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

/** Neighbours farther than this many widths act as filaments, to 2e-4 of their share. */
const NEAR_WIDTHS = 8;

function strips(winding: Winding, width: number): Estimate {
  const near = nearbyPieces(winding, NEAR_WIDTHS * width);
  let value = 0;
  let evaluations = 0;
  winding.turns.forEach((turn, number) => {
    turn.pieces.forEach((piece, index) => {
      const [tx, ty, tz] = pieceTangent(piece, 0.5);
      if (Math.abs(tz) > 0.5) return;
      const [x, y, dz] = piecePoint(piece, 0.5);
      for (const { across, height, current } of near.at(number, index, x, y, turn.z + dz, tx, ty)) {
        // One that crosses ahead, at right angles, is no neighbour.
        if (current === 0 || (across === 0 && height === 0)) continue;
        const change = logStripMeanDistance(width, across, Math.abs(height)) - Math.log(Math.hypot(across, height));
        value -= (MU0 / (2 * Math.PI)) * turn.weight * current * pieceLength(piece) * change;
        evaluations++;
      }
    });
  });
  return { value, errorEstimate: 0.1 * Math.abs(value), evaluations };
}
