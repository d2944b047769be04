import { pieceLength, piecePoint, pieceTangent } from '../coil/piece-geometry.ts';
import type { Winding } from '../coil/types.ts';

/** Field of a coil's own plates at the centre line of one turn, A/m per ampere in the coil. */
export interface TurnField {
  /** Root mean square over the turn of the part across the wire, A/m per A. */
  readonly across: number;
  /** Its square's mean, 1/m2: what proximity loss takes. */
  readonly squared: number;
}

/** Samples per turn at least; pieces share them by length. */
const SAMPLES = 48;

/** @param field H per ampere at a point of the coil's frame */
export function turnFields(
  winding: Winding,
  field: (x: number, y: number, z: number, out: Float64Array) => void,
): TurnField[] {
  const h = new Float64Array(3);
  return winding.turns.map((turn) => {
    const length = turn.pieces.reduce((sum, piece) => sum + pieceLength(piece), 0);
    let sum = 0;
    for (const piece of turn.pieces) {
      const own = pieceLength(piece);
      const count = Math.max(2, Math.ceil((SAMPLES * own) / length));
      for (let i = 0; i < count; i++) {
        const at = (i + 0.5) / count;
        const [x, y, lift] = piecePoint(piece, at);
        const [tx, ty, tz] = pieceTangent(piece, at);
        field(x, y, turn.z + lift, h);
        const norm = Math.hypot(tx, ty, tz);
        const along = (h[0]! * tx + h[1]! * ty + h[2]! * tz) / norm;
        sum += ((h[0]! ** 2 + h[1]! ** 2 + h[2]! ** 2 - along * along) * own) / count;
      }
    }
    const squared = sum / length;
    return { across: Math.sqrt(squared), squared };
  });
}
