import { expect, test } from 'vitest';
import { pieceLength, piecePoint } from '../../../src/physics/coil/piece-geometry.ts';
import { polygonInset } from '../../../src/physics/coil/polygon-inset.ts';
import { circleFamily, cornerFamily, polygonFamily } from '../../../src/physics/coil/ring-family.ts';
import { rectanglePoints } from './coils.ts';

const families = {
  circle: circleFamily(20e-3, 1e-3, 12),
  corner: cornerFamily(
    (p) => ({ halfWidth: 20e-3 - p * 1e-3, halfHeight: 10e-3 - p * 1e-3, radius: 5e-3 - p * 0.5e-3 }),
    1e-3,
    1e-3,
    3,
  ),
  polygon: polygonFamily(polygonInset(Float64Array.from(rectanglePoints(40e-3, 20e-3)), 5e-3), 1e-3),
};

test.each(Object.entries(families))(
  '%s: rings close, count the same at every position and shrink inwards',
  (_, family) => {
    const perimeter = (position: number) =>
      family.template(position).reduce((sum, piece) => sum + pieceLength(piece), 0);
    for (const position of [0, 0.37, 4]) {
      const ring = family.template(position);
      expect(ring).toHaveLength(family.template(0).length);
      ring.forEach((piece, i) => {
        const [x, y] = piecePoint(piece, 1);
        const [u, v] = piecePoint(ring[(i + 1) % ring.length], 0);
        expect(Math.hypot(x - u, y - v)).toBeLessThan(1e-15);
        expect(family.piece(position, i)).toEqual(piece);
      });
    }
    expect(perimeter(3)).toBeLessThan(perimeter(0));
  },
);

test('pieces of no length stay in their place', () => {
  const round = cornerFamily(() => ({ halfWidth: 5e-3, halfHeight: 5e-3, radius: 5e-3 }), 0, 0, 1).template(0);
  expect(round).toHaveLength(8);
  expect(round.filter((piece) => pieceLength(piece) === 0)).toHaveLength(4);
});
