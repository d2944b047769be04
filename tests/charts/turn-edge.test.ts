import { describe, expect, test } from 'vitest';
import { sectionMm, windingOutline } from '../../src/charts/turn-edge.ts';
import { windCoil } from '../../src/physics/coil/winding.ts';

const litz = { kind: 'litz', strands: 105, strandDiameter: 0.08e-3, bundleDiameter: 1.1e-3 } as const;
const circle = windCoil({
  outline: { shape: 'circle', outerDiameter: 44e-3, innerDiameter: 20.5e-3 },
  turns: 10,
  layers: 1,
  layerPitch: 1.2e-3,
  filars: 1,
  winding: 'rings',
  conductor: litz,
});
const rectangle = windCoil({
  outline: {
    shape: 'roundedRectangle',
    outerWidth: 46e-3,
    outerHeight: 33e-3,
    innerWidth: 28e-3,
    innerHeight: 15e-3,
    outerCornerRadius: 10e-3,
    innerCornerRadius: 2e-3,
  },
  turns: 14,
  layers: 2,
  layerPitch: 0.8e-3,
  filars: 1,
  winding: 'rings',
  conductor: { ...litz, strands: 60, bundleDiameter: 0.75e-3 },
});

function reach(points: Float64Array, axis: 0 | 1): number {
  let most = 0;
  for (let i = axis; i < points.length; i += 2) most = Math.max(most, Math.abs(points[i]));
  return most;
}

describe('the edges of a winding', () => {
  test('of a spiral run once round all of it: between its sizes and one pitch less', () => {
    for (const outline of [
      { shape: 'circle', outerDiameter: 40e-3, innerDiameter: 16e-3 },
      {
        shape: 'roundedRectangle',
        outerWidth: 46e-3,
        outerHeight: 33e-3,
        innerWidth: 28e-3,
        innerHeight: 15e-3,
        outerCornerRadius: 10e-3,
        innerCornerRadius: 2e-3,
      },
    ] as const) {
      const wound = windCoil({
        outline,
        turns: 8,
        layers: 1,
        layerPitch: 1e-3,
        filars: 1,
        winding: 'spiral',
        conductor: { kind: 'trace', width: 0.6e-3, thickness: 35e-6 },
      });
      const { outerMm, innerMm, halfWidthMm } = windingOutline(wound);
      const [outer, inner] = outline.shape === 'circle' ? [20, 8] : [23, 14];
      const pitch = (outer - inner) / 7;
      expect(reach(outerMm, 0)).toBeGreaterThan(outer - pitch);
      expect(reach(outerMm, 0)).toBeLessThanOrEqual(outer + 1e-3);
      expect(reach(outerMm, 0)).toBeCloseTo(halfWidthMm, 0);
      expect(reach(innerMm, 0)).toBeGreaterThan(inner - 1e-3);
      expect(reach(innerMm, 0)).toBeLessThan(inner + pitch);
      for (const line of [outerMm, innerMm]) {
        let turned = 0;
        for (let i = 0; i < line.length; i += 2) {
          const j = (i + 2) % line.length;
          turned += Math.atan2(
            line[i] * line[j + 1] - line[i + 1] * line[j],
            line[i] * line[j] + line[i + 1] * line[j + 1],
          );
        }
        expect(turned).toBeCloseTo(2 * Math.PI, 6);
      }
    }
  });
  test('of a circle are its stated diameters', () => {
    const { outerMm, innerMm } = windingOutline(circle);
    expect(reach(outerMm, 0)).toBeCloseTo(22, 6);
    expect(reach(innerMm, 0)).toBeCloseTo(10.25, 6);
  });
  test('of a rounded rectangle are its stated sizes and corner radius', () => {
    const { outerMm, innerMm } = windingOutline(rectangle);
    expect(reach(outerMm, 0)).toBeCloseTo(23, 6);
    expect(reach(outerMm, 1)).toBeCloseTo(16.5, 6);
    expect(reach(innerMm, 0)).toBeCloseTo(14, 6);
    expect(reach(innerMm, 1)).toBeCloseTo(7.5, 6);
    // Middle of the corner: at the radius' 45 degree point.
    const wanted = [23 - 10 + 10 * Math.SQRT1_2, 16.5 - 10 + 10 * Math.SQRT1_2];
    let nearest = Number.POSITIVE_INFINITY;
    for (let i = 0; i < outerMm.length; i += 2) {
      nearest = Math.min(nearest, Math.hypot(outerMm[i] - wanted[0], outerMm[i + 1] - wanted[1]));
    }
    expect(nearest).toBeLessThan(0.01);
  });
});

describe('the section through the middle', () => {
  test('shows every turn twice, left and right alike', () => {
    const section = sectionMm(circle);
    expect(section).toHaveLength(2 * 20);
    const xs = Array.from(section.filter((_, i) => i % 2 === 0)).sort((a, b) => a - b);
    expect(xs[0]).toBeCloseTo(-xs[19], 9);
    // Outermost centre line half a conductor inside the outer edge.
    expect(xs[19]).toBeCloseTo(22 - 0.55, 6);
    expect(xs[10]).toBeCloseTo(10.25 + 0.55, 6);
  });
  test('has two layers at their heights', () => {
    const section = sectionMm(rectangle);
    expect(section).toHaveLength(2 * 28);
    const heights = new Set(
      Array.from(
        section.filter((_, i) => i % 2 === 1),
        (z) => Number(z.toFixed(6)),
      ),
    );
    expect([...heights].sort()).toEqual([-0.4, 0.4]);
  });
});
