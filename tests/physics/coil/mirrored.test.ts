import { expect, test } from 'vitest';
import { isMirrored } from '../../../src/physics/coil/mirrored.ts';
import { piecePoint } from '../../../src/physics/coil/piece-geometry.ts';
import type { Winding } from '../../../src/physics/coil/types.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import { RECEIVER, rectanglePoints, TRANSMITTER } from './coils.ts';

/** Whether every corner and middle of every piece has its image among the others, by looking. */
function looksMirrored({ turns }: Winding): boolean {
  const points = turns.flatMap(({ pieces }) => pieces.flatMap((piece) => [0, 0.5].map((s) => piecePoint(piece, s))));
  const has = (x: number, y: number) => points.some(([u, v]) => Math.hypot(u - x, v - y) < 1e-9);
  return points.every(([x, y]) => has(-x, y) && has(x, -y));
}

const slanted = {
  shape: 'path',
  points: Float64Array.of(0.03, -0.02, 0.02, 0.02, -0.02, 0.02, -0.02, -0.02),
  pitch: 2e-3,
} as const;

test.each([
  ['rounded rectangle', { ...RECEIVER, winding: 'rings' }],
  ['its spiral', { ...RECEIVER, winding: 'spiral' }],
  ['slanted path', { ...TRANSMITTER, winding: 'rings', turns: 3, outline: slanted }],
] as const)('%s: said as it looks', (_, spec) => {
  const winding = windCoil(spec);
  expect(isMirrored(winding)).toBe(looksMirrored(winding));
});

test('a path may be mirrored and is not taken as such; a circle is one arc', () => {
  const outline = { shape: 'path', points: Float64Array.from(rectanglePoints(0.04, 0.03)), pitch: 2e-3 } as const;
  expect(isMirrored(windCoil({ ...TRANSMITTER, winding: 'rings', turns: 3, outline }))).toBe(false);
  expect(isMirrored(windCoil({ ...TRANSMITTER, winding: 'rings' }))).toBe(true);
});
