import { pieceLength } from '../coil/piece-geometry.ts';
import { MU0 } from '../constants.ts';
import type { LinkSide } from './types.ts';

/**
 * What the single turns of a winding close over its ferrite add to its inductance beyond an even sheet of current, H: the
 * plate's cells are wider than the turns are apart and miss it. Zero without ferrite and for fewer than three turns a layer.
 *
 * Turns a pitch p apart at height h over a plane with image factor a carry (mu0 / 2 pi) a ln(1 / (1 - exp(-4 pi h / p))) each
 * per metre from all harmonics of the pitch. For a thin plate an upper bound.
 * Source: complex potential of a row of line currents, ln sin(pi z / p) (from memory).
 */
export function turnRipple({ winding, ferrite }: LinkSide): number {
  if (!ferrite) return 0;
  const { spec, turns, halfThickness } = winding;
  if (spec.turns / spec.layers < 3) return 0;
  const pitch = Math.max(winding.pitchX, winding.pitchY);
  const outermost = Math.max(...turns.map((turn) => Math.abs(turn.z)));
  const height = ferrite.standoff + halfThickness - outermost;
  const image = (ferrite.relativePermeability - 1) / (ferrite.relativePermeability + 1);
  const length =
    turns.reduce(
      (sum, turn) => sum + turn.weight ** 2 * turn.pieces.reduce((s, piece) => s + pieceLength(piece), 0),
      0,
    ) / spec.layers;
  return -((MU0 / (2 * Math.PI)) * image * length * Math.log1p(-Math.exp((-4 * Math.PI * height) / pitch)));
}
