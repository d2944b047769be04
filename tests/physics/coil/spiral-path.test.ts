import { expect, test } from 'vitest';
import { pieceLength, piecePoint } from '../../../src/physics/coil/piece-geometry.ts';
import { circleFamily } from '../../../src/physics/coil/ring-family.ts';
import { spiralPath } from '../../../src/physics/coil/spiral-path.ts';

const layout = { layerTurns: [5], layerPitch: 1e-3, filars: 1, leadDistance: 0.5e-3, leadSide: -1 } as const;
const family = circleFamily(20e-3, 2e-3, 12);

test('a circular spiral stays within 2e-4 of its pitch of the Archimedean spiral', () => {
  const pieces = spiralPath(family, layout, 0).slice(0, -3);
  expect(pieces).toHaveLength(60);
  let worst = 0;
  pieces.forEach((piece, i) => {
    for (let k = 0; k <= 10; k++) {
      const [x, y] = piecePoint(piece, k / 10);
      let turned = Math.atan2(y, x) / (2 * Math.PI);
      turned += Math.round((i + k / 10) / 12 - turned);
      worst = Math.max(worst, Math.abs(Math.hypot(x, y) - (20e-3 - 2e-3 * turned)));
    }
  });
  expect(worst / 2e-3).toBeLessThan(2e-4);
});

test('the lead goes down, straight across and up', () => {
  const [down, across, up] = spiralPath(family, layout, 0).slice(-3);
  expect([down, across, up].map(pieceLength)).toEqual(
    [0.5e-3, 10e-3, 0.5e-3].map((length) => expect.closeTo(length, 12)),
  );
});

test('a second layer winds outwards again in the same sense', () => {
  const pieces = spiralPath(family, { ...layout, layerTurns: [5, 5] }, 0);
  const angleSum = pieces.reduce((sum, piece) => sum + (piece.kind === 'arc' ? piece.sweep : 0), 0);
  expect(angleSum / (2 * Math.PI)).toBeCloseTo(10, 1);
  const outermost = pieces.at(-2);
  expect(outermost?.kind === 'arc' ? Math.hypot(...piecePoint(outermost, 1).slice(0, 2)) : 0).toBeCloseTo(20e-3, 12);
});

test('filars lie one place further in each', () => {
  const second = spiralPath(circleFamily(20e-3, 1e-3, 12), { ...layout, filars: 2 }, 1);
  expect(piecePoint(second[0], 0)[0]).toBeCloseTo(19e-3, 12);
});
