import { expect, test } from 'vitest';
import { nearbyPieces } from '../../../src/physics/coil/nearby-pieces.ts';
import { piecePoint, pieceTangent } from '../../../src/physics/coil/piece-geometry.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import { RECEIVER, TRANSMITTER } from './coils.ts';

test('neighbours of a ring lie one spacing inwards and outwards, and in the other layer', () => {
  const coil = windCoil(RECEIVER);
  const turn = coil.turns[3];
  const [x, y] = piecePoint(turn.pieces[0], 0.4);
  const [tx, ty] = pieceTangent(turn.pieces[0], 0.4);
  const found = nearbyPieces(coil, 1.5e-3).at(3, 0, x, y, turn.z, tx, ty);
  const places = found.map(({ across, height, current }) => [across * 1e3, height * 1e3, current]);
  expect(places).toHaveLength(3);
  expect(places).toContainEqual([expect.closeTo(1.375, 9), expect.closeTo(0, 9), 1]);
  expect(places).toContainEqual([expect.closeTo(-1.375, 9), expect.closeTo(0, 9), 1]);
  expect(places).toContainEqual([expect.closeTo(0, 9), expect.closeTo(0.8, 9), 1]);
});

test("a spiral's neighbours are its other passes, with the place on them", () => {
  const coil = windCoil({ ...TRANSMITTER, turns: 9, winding: 'spiral' });
  const piece = coil.turns[0].pieces[40];
  const [x, y] = piecePoint(piece, 0.5);
  const [tx, ty] = pieceTangent(piece, 0.5);
  const found = nearbyPieces(coil, 1.5 * coil.pitchX).at(0, 40, x, y, coil.turns[0].z, tx, ty);
  expect(found.map(({ index }) => index).sort((a, b) => a - b)).toEqual([28, 52]);
  for (const { across, fraction } of found) {
    expect(Math.abs(across) / coil.pitchX).toBeCloseTo(1, 2);
    expect(fraction).toBeGreaterThan(0.3);
    expect(fraction).toBeLessThan(0.7);
  }
});
