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

test('a neighbour that crosses ahead at right angles is none (random designs 9008, 5021, 5029: eddy currents without an end)', () => {
  // The middle of the inner turn's short side lies in line with the outer turn's long side.
  const coil = windCoil({
    outline: {
      shape: 'stadium',
      outerWidth: 25.76e-3,
      outerHeight: 17.31e-3,
      innerWidth: 11.62e-3,
      innerHeight: 3.171e-3,
    },
    turns: 57,
    layers: 7,
    layerPitch: 0.5092e-3,
    filars: 1,
    winding: 'rings',
    conductor: { kind: 'solid', diameter: 0.4428e-3, insulatedDiameter: 0.5092e-3 },
  });
  const near = nearbyPieces(coil, 4e-3);
  let found = 0;
  coil.turns.forEach((turn, number) => {
    turn.pieces.forEach((piece, index) => {
      const [x, y, dz] = piecePoint(piece, 0.5);
      const [tx, ty] = pieceTangent(piece, 0.5);
      for (const { across, height } of near.at(number, index, x, y, turn.z + dz, tx, ty)) {
        // No wire lies nearer beside than its own thickness.
        expect(Math.hypot(across, height)).toBeGreaterThan(0.45e-3);
        found++;
      }
    });
  });
  expect(found).toBeGreaterThan(100);
});
