import { describe, expect, test } from 'vitest';
import type { Turn, Winding } from '../../../src/physics/coil/types.ts';
import { turnPath } from '../../../src/scene/build/turn-path.ts';
import { turnOfTriangle, windingMesh } from '../../../src/scene/build/winding-mesh.ts';
import { circleWinding, rectangleWinding } from '../support/demo-link.ts';
import { normalCheck, openSides, volume } from '../support/solid.ts';

const MM = 1e-3;

describe('turnPath', () => {
  test('a full circle closes without repeating its first point and keeps to the step', () => {
    const turn = circleWinding().turns[0]!;
    const { points, closed } = turnPath(turn, Math.PI / 16);
    expect(closed).toBe(true);
    expect(points.length / 2).toBe(32);
    for (let i = 0; i < points.length; i += 2)
      expect(Math.hypot(points[i]!, points[i + 1]!)).toBeCloseTo(21.45 * MM, 12);
  });

  test('arcs of no radius leave sharp corners, not doubled points', () => {
    const turn: Turn = {
      z: 0,
      weight: 1,
      pieces: [
        { kind: 'line', x0: 0, y0: 0, x1: 0.01, y1: 0 },
        { kind: 'arc', cx: 0.01, cy: 0, radius: 0, start: -Math.PI / 2, sweep: Math.PI / 2 },
        { kind: 'line', x0: 0.01, y0: 0, x1: 0.01, y1: 0.01 },
        { kind: 'line', x0: 0.01, y0: 0.01, x1: 0, y1: 0 },
      ],
    };
    const { points, closed } = turnPath(turn, Math.PI / 16);
    expect(closed).toBe(true);
    expect([...points]).toEqual([0, 0, 0.01, 0, 0.01, 0.01]);
  });

  test('a path whose ends do not meet stays open', () => {
    const turn: Turn = { z: 0, weight: 1, pieces: [{ kind: 'line', x0: 0, y0: 0, x1: 0.01, y1: 0 }] };
    expect(turnPath(turn, 0.1).closed).toBe(false);
  });
});

describe('windingMesh', () => {
  test('a ring has the volume of its torus (theorem of Pappus: area times the way of its centroid)', () => {
    const winding = circleWinding(44, 41.8, 1);
    const { mesh } = windingMesh(winding);
    const torus = 2 * Math.PI * (21.45 * MM) * Math.PI * (0.55 * MM) ** 2;
    // The wire keeps its area; the ring is a polygon of 72 sides, shorter by (pi/72)^2/2 = 0.1 %.
    expect(volume(mesh) / torus).toBeGreaterThan(0.997);
    expect(volume(mesh) / torus).toBeLessThan(1.0005);
    expect(openSides(mesh)).toBe(0);
  });

  test('the demo coils are closed surfaces with outward unit normals', () => {
    for (const winding of [circleWinding(), rectangleWinding()]) {
      const { mesh } = windingMesh(winding);
      expect(openSides(mesh)).toBe(0);
      const { leastCosine, lengthError } = normalCheck(mesh);
      // A wire of six sides: its normals lean by up to 30 degrees from its faces, and a little more along bends.
      expect(leastCosine).toBeGreaterThan(Math.cos((38 * Math.PI) / 180));
      expect(lengthError).toBeLessThan(1e-6);
    }
  });

  test('the conductor reaches the outline: outer and inner edges of the demo coils within 3 % of a wire', () => {
    const { mesh } = windingMesh(circleWinding());
    let outer = 0;
    let inner = 1;
    for (let i = 0; i < mesh.positions.length; i += 3) {
      const r = Math.hypot(mesh.positions[i]!, mesh.positions[i + 1]!);
      outer = Math.max(outer, r);
      inner = Math.min(inner, r);
    }
    expect(Math.abs(outer - 22 * MM)).toBeLessThan(0.11 * 1.1 * MM);
    expect(Math.abs(inner - 10.25 * MM)).toBeLessThan(0.11 * 1.1 * MM);
  });

  test('layers lie at their heights', () => {
    const { mesh, turnStarts } = windingMesh(rectangleWinding());
    const heights = (turn: number): number => {
      let sum = 0;
      let count = 0;
      for (let t = 3 * turnStarts[turn]!; t < 3 * turnStarts[turn + 1]!; t++) {
        sum += mesh.positions[3 * mesh.indices[t]! + 2]!;
        count++;
      }
      return sum / count;
    };
    expect(heights(0)).toBeCloseTo(-0.4 * MM, 6);
    expect(heights(13)).toBeCloseTo(0.4 * MM, 6);
  });

  test('a printed trace is a closed flat box of its own width and thickness', () => {
    const wire = circleWinding(44, 41.8, 1);
    const winding: Winding = {
      ...wire,
      spec: { ...wire.spec, conductor: { kind: 'trace', width: 0.8 * MM, thickness: 0.07 * MM } },
    };
    const { mesh } = windingMesh(winding);
    const ideal = 2 * Math.PI * (21.45 * MM) * 0.8 * MM * 0.07 * MM;
    expect(volume(mesh) / ideal).toBeCloseTo(1, 2);
    expect(openSides(mesh)).toBe(0);
    expect(normalCheck(mesh).leastCosine).toBeGreaterThan(0.99);
  });

  test('an open path gets its ends closed', () => {
    const wire = circleWinding(44, 41.8, 1);
    const pieces = [{ kind: 'line' as const, x0: 0, y0: 0, x1: 10 * MM, y1: 0 }];
    const { mesh } = windingMesh({ ...wire, turns: [{ pieces, z: 0, weight: 1 }] });
    expect(openSides(mesh)).toBe(0);
    expect(volume(mesh) / (10 * MM * Math.PI * (0.55 * MM) ** 2)).toBeCloseTo(1, 6);
  });

  test('a path that doubles back grows no spike', () => {
    const wire = circleWinding(44, 41.8, 1);
    const line = (x0: number, y0: number, x1: number, y1: number) => ({ kind: 'line' as const, x0, y0, x1, y1 });
    const pieces = [line(0, 0, 10 * MM, 0), line(10 * MM, 0, 0, 0.1 * MM), line(0, 0.1 * MM, 0, 0)];
    const { mesh } = windingMesh({ ...wire, turns: [{ pieces, z: 0, weight: 1 }] });
    for (const v of mesh.positions) expect(Math.abs(v)).toBeLessThan(12 * MM);
  });

  test('many turns give up detail, few keep it', () => {
    const many = windingMesh(circleWinding(100, 10, 80, 0.5));
    expect(many.mesh.indices.length / 3).toBeLessThan(14_000);
    expect(windingMesh(circleWinding(44, 41.8, 1)).mesh.indices.length / 3).toBe(72 * 10 * 2);
  });

  test('a triangle knows its turn', () => {
    const { mesh, turnStarts } = windingMesh(circleWinding());
    expect(turnOfTriangle(turnStarts, 0)).toBe(0);
    expect(turnOfTriangle(turnStarts, turnStarts[3]!)).toBe(3);
    expect(turnOfTriangle(turnStarts, turnStarts[3]! - 1)).toBe(2);
    expect(turnOfTriangle(turnStarts, mesh.indices.length / 3 - 1)).toBe(9);
  });
});
