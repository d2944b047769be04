import { describe, expect, test } from 'vitest';
import type { PlateOutline } from '../../../src/physics/coil/types.ts';
import { groundGrid } from '../../../src/scene/build/ground-grid.ts';
import { outlinePoints, withoutWedge } from '../../../src/scene/build/outline-points.ts';
import { plateMesh } from '../../../src/scene/build/plate-mesh.ts';
import { softShadow } from '../../../src/scene/build/soft-shadow.ts';
import { stripMesh } from '../../../src/scene/build/strip-mesh.ts';
import { normalCheck, openSides, volume } from '../support/solid.ts';

const CIRCLE: PlateOutline = { shape: 'circle', diameter: 0.05 };
const ROUNDED: PlateOutline = { shape: 'roundedRectangle', width: 0.048, height: 0.036, cornerRadius: 0.006 };
const SHARP: PlateOutline = { shape: 'roundedRectangle', width: 0.05, height: 0.05, cornerRadius: 0 };
const STADIUM: PlateOutline = { shape: 'stadium', width: 0.06, height: 0.03 };

/** Areas of the true outlines (plane geometry). */
const AREAS: readonly (readonly [string, PlateOutline, number])[] = [
  ['circle', CIRCLE, Math.PI * 0.025 ** 2],
  ['rounded rectangle', ROUNDED, 0.048 * 0.036 - (4 - Math.PI) * 0.006 ** 2],
  ['sharp rectangle', SHARP, 0.05 * 0.05],
  ['stadium', STADIUM, 0.03 * 0.03 + Math.PI * 0.015 ** 2],
];

describe('plateMesh', () => {
  test.each(AREAS)('%s: whole, it has the volume of its outline, is closed and looks outwards', (_, outline, area) => {
    const { body, section } = plateMesh(outline, -0.002, -0.001);
    expect(section).toBeNull();
    expect(openSides(body)).toBe(0);
    // Arcs in steps of pi/32 lose (pi/32)^2/6 = 0.16 % of a circle's area.
    expect(volume(body) / (area * 0.001)).toBeGreaterThan(0.998);
    expect(volume(body) / (area * 0.001)).toBeLessThan(1 + 1e-6);
    expect(normalCheck(body).leastCosine).toBeGreaterThan(0.99);
  });

  test.each(AREAS)(
    '%s: a quarter cut out leaves three quarters, closed by the faces of the cut',
    (_, outline, area) => {
      const { body, section } = plateMesh(outline, 0, 0.001, { from: (3 * Math.PI) / 2, to: 2 * Math.PI });
      expect(openSides(body, section!)).toBe(0);
      expect(volume(body, section!) / (area * 0.75 * 0.001)).toBeGreaterThan(0.998);
      expect(volume(body, section!) / (area * 0.75 * 0.001)).toBeLessThan(1 + 1e-6);
      expect(normalCheck(section!).leastCosine).toBeGreaterThan(0.999);
    },
  );

  test('each quarter takes out its own corner', () => {
    for (let q = 0; q < 4; q++) {
      const { body } = plateMesh(SHARP, 0, 0.001, { from: (q * Math.PI) / 2, to: ((q + 1) * Math.PI) / 2 });
      const angle = (q + 0.5) * (Math.PI / 2);
      let nearest = 1;
      for (let i = 0; i < body.positions.length; i += 3)
        nearest = Math.min(
          nearest,
          Math.hypot(
            body.positions[i]! - 0.025 * Math.SQRT2 * Math.cos(angle),
            body.positions[i + 1]! - 0.025 * Math.SQRT2 * Math.sin(angle),
          ),
        );
      expect(nearest).toBeGreaterThan(0.02);
    }
  });

  test('edges come in pairs of points and lie on the two faces', () => {
    const { edges } = plateMesh(ROUNDED, 0.001, 0.003, { from: 0, to: Math.PI / 2 });
    expect(edges.positions.length % 6).toBe(0);
    for (let i = 2; i < edges.positions.length; i += 3)
      expect([0.001, 0.003]).toContain(Number(edges.positions[i]!.toFixed(6)));
  });
});

describe('outlines', () => {
  test('run counter-clockwise without repeating a point', () => {
    for (const [, outline] of AREAS) {
      const p = outlinePoints(outline);
      let twice = 0;
      for (let i = 0; i < p.length; i += 2) {
        const j = (i + 2) % p.length;
        expect(Math.hypot(p[j]! - p[i]!, p[j + 1]! - p[i + 1]!)).toBeGreaterThan(1e-6);
        twice += p[i]! * p[j + 1]! - p[j]! * p[i + 1]!;
      }
      expect(twice).toBeGreaterThan(0);
    }
  });

  test('a corner radius larger than the plate is drawn as large as it fits', () => {
    const p = outlinePoints({ shape: 'roundedRectangle', width: 0.02, height: 0.01, cornerRadius: 0.1 });
    const stadium = outlinePoints({ shape: 'stadium', width: 0.02, height: 0.01 });
    expect([...p]).toEqual([...stadium]);
  });

  test('a wedge is cut exactly at its angles', () => {
    const rest = withoutWedge(outlinePoints(SHARP), { from: Math.PI / 6, to: Math.PI / 3 });
    const n = rest.length;
    expect(Math.atan2(rest[1]!, rest[0]!)).toBeCloseTo(Math.PI / 3, 12);
    expect(Math.atan2(rest[n - 1]!, rest[n - 2]!)).toBeCloseTo(Math.PI / 6, 12);
    expect(rest[1]).toBeCloseTo(0.025, 12);
    expect(rest[n - 2]).toBeCloseTo(0.025, 12);
  });
});

describe('shadow, grid and field lines', () => {
  test('a shadow is full inside, gone at its rim and never outside 0..1', () => {
    const { positions, opacity } = softShadow(ROUNDED, 0.006);
    expect(opacity[0]).toBe(1);
    expect(opacity[opacity.length - 1]).toBe(0);
    for (const v of opacity) expect(v >= 0 && v <= 1).toBe(true);
    for (let i = 2; i < positions.length; i += 3) expect(positions[i]).toBe(0);
  });

  test('the grid fades to nothing at its radius', () => {
    const { positions, opacity } = groundGrid(0.01, 0.07, 0.6);
    opacity.forEach((v, i) => {
      const r = Math.hypot(positions[3 * i]!, positions[3 * i + 1]!);
      expect(v).toBeLessThanOrEqual(Math.fround(0.6));
      if (r >= 0.07) expect(v).toBe(0);
    });
    expect(Math.max(...opacity)).toBeCloseTo(0.6, 6);
  });

  test('a field line is a thin tube along its points; single points are left out', () => {
    const n = 60;
    const loop = new Float64Array(3 * n);
    for (let i = 0; i < n; i++) {
      loop[3 * i] = 0.02 * Math.cos(i / 12);
      loop[3 * i + 2] = 0.02 * Math.sin(i / 12);
    }
    const mesh = stripMesh([loop, Float64Array.from([1, 2, 3]), new Float64Array(0)], 2e-4);
    expect(mesh.positions.length / 3).toBe(3 * n);
    expect(mesh.indices.length / 3).toBe(6 * (n - 1));
    expect(normalCheck(mesh).lengthError).toBeLessThan(1e-6);
    expect(normalCheck(mesh).leastCosine).toBeGreaterThan(0.45);
    for (const v of mesh.positions) expect(Number.isFinite(v) && Math.abs(v) < 0.021).toBe(true);
  });

  test('a field line straight along its own axis still has a body', () => {
    const mesh = stripMesh([Float64Array.from([0, 0, 0, 0, 0, 0.01, 0, 0, 0.02])], 1e-4);
    for (let i = 0; i < mesh.positions.length; i += 3)
      expect(Math.hypot(mesh.positions[i]!, mesh.positions[i + 1]!)).toBeCloseTo(1e-4, 9);
  });
});
