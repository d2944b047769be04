import { expect, test } from 'vitest';
import { outlineFamily } from '../../../src/physics/coil/outline-family.ts';
import { RECEIVER, TRANSMITTER } from './coils.ts';

test('the span of positions fills the band between the edges', () => {
  const family = outlineFamily(TRANSMITTER, 9, false);
  const radius = (position: number) => {
    const [piece] = family.template(position);
    return piece.kind === 'arc' ? piece.radius : Number.NaN;
  };
  expect(radius(0)).toBeCloseTo(21.45e-3, 15);
  expect(radius(9)).toBeCloseTo(10.8e-3, 15);
});

test('spirals get their arcs cut, rings do not', () => {
  expect(outlineFamily(TRANSMITTER, 9, true).template(0)).toHaveLength(12);
  expect(outlineFamily(RECEIVER, 6, false).template(0)).toHaveLength(8);
  expect(outlineFamily(RECEIVER, 6, true).template(0)).toHaveLength(16);
});
