import { describe, expect, test } from 'vitest';
import { polygonArea } from '../../../src/physics/coil/polygon-checks.ts';
import { turnLength, turnPolyline } from '../../../src/physics/coil/turn-polyline.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import { circle, RECEIVER, roundedLoop } from './coils.ts';

function flat(points: Float64Array): Float64Array {
  return points.filter((_, i) => i % 3 !== 2);
}

describe('turnPolyline', () => {
  test.each([3, 8, 60])('a circle of %i sides keeps its area', (segments) => {
    const polygon = turnPolyline(circle(20e-3).turns[0], segments);
    expect(polygon.length).toBe(3 * segments);
    expect(polygonArea(flat(polygon)) / (Math.PI * 400e-6)).toBeCloseTo(1, 12);
  });

  test('a rounded rectangle keeps its area, straight sides stay single', () => {
    const [a, b, r] = [44e-3, 30e-3, 6e-3];
    const polygon = turnPolyline(roundedLoop(a, b, r).turns[0], 16);
    expect(polygon.length).toBe(3 * 20);
    expect(polygonArea(flat(polygon)) / (a * b - (4 - Math.PI) * r * r)).toBeCloseTo(1, 9);
  });

  test('heights: layers keep their plane, a spiral climbs', () => {
    const layered = windCoil(RECEIVER);
    expect(turnPolyline(layered.turns[0], 40).filter((_, i) => i % 3 === 2)).toEqual(
      new Float64Array(44).fill(-0.4e-3).slice(0, turnPolyline(layered.turns[0], 40).length / 3),
    );
    const spiral = turnPolyline(windCoil({ ...RECEIVER, winding: 'spiral' }).turns[0], 400);
    const heights = spiral.filter((_, i) => i % 3 === 2);
    expect(Math.min(...heights)).toBeCloseTo(-0.4e-3, 12);
    expect(Math.max(...heights)).toBeCloseTo(0.4e-3, 12);
  });

  test('turnLength is the sum of the pieces', () => {
    expect(turnLength(roundedLoop(44e-3, 30e-3, 6e-3).turns[0])).toBeCloseTo(
      2 * (32e-3 + 18e-3) + 2 * Math.PI * 6e-3,
      12,
    );
  });
});
