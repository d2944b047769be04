import { describe, expect, test } from 'vitest';
import { coaxialMutualInductance } from '../../../src/physics/coil/coaxial-circles.ts';
import { mutualInductance } from '../../../src/physics/coil/mutual-inductance.ts';
import { poseMatrix, transformNodes, windingNodes } from '../../../src/physics/coil/nodes.ts';
import type { FilamentNodes } from '../../../src/physics/coil/types.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import { circle, pose, RECEIVER, roundedLoop, TRANSMITTER } from './coils.ts';

/** Plain double sum of dl.dl'/r: what the nodes are for. */
function doubleSum(a: FilamentNodes, b: FilamentNodes): number {
  let sum = 0;
  for (let i = 0; i < a.count; i++) {
    for (let j = 0; j < b.count; j++) {
      const dot = a.dx[i] * b.dx[j] + a.dy[i] * b.dy[j] + a.dz[i] * b.dz[j];
      sum += dot / Math.hypot(a.x[i] - b.x[j], a.y[i] - b.y[j], a.z[i] - b.z[j]);
    }
  }
  return 1e-7 * sum;
}

describe('windingNodes', () => {
  test('line elements of a closed turn add up to nothing, their lengths to the wire', () => {
    for (const spec of [TRANSMITTER, RECEIVER, { ...RECEIVER, winding: 'spiral' as const }]) {
      const coil = windCoil(spec);
      const nodes = windingNodes(coil, 1e-3);
      const total = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0);
      expect(Math.hypot(total(nodes.dx), total(nodes.dy), total(nodes.dz))).toBeLessThan(1e-7);
      let length = 0;
      for (let i = 0; i < nodes.count; i++) length += Math.hypot(nodes.dx[i], nodes.dy[i], nodes.dz[i]);
      expect(length).toBeCloseTo(coil.wireLength, 12);
    }
  });

  test('filars weigh their share', () => {
    const nodes = windingNodes(windCoil({ ...TRANSMITTER, turns: 5, filars: 2 }), 1e-3);
    let length = 0;
    for (let i = 0; i < nodes.count; i++) length += Math.hypot(nodes.dx[i], nodes.dy[i]);
    // Ten wires at half weight.
    expect(length).toBeCloseTo(windCoil(TRANSMITTER).wireLength / 2, 12);
  });

  test('trapezoid rule on circles: error falls as exp(-2 pi d / h), to rounding', () => {
    const [a, b, d] = [20e-3, 20e-3, 5e-3];
    const exact = coaxialMutualInductance(a, b, d);
    const error = (h: number) =>
      Math.abs(
        doubleSum(windingNodes(circle(a), h), transformNodes(windingNodes(circle(b), h), poseMatrix(pose({ z: d })))) /
          exact -
          1,
      );
    const [e1, e2, e4] = [error(5e-3), error(2.5e-3), error(1e-3)];
    // Halving the spacing squares the error, but for the factor in front.
    expect(Math.log(e2) / Math.log(e1)).toBeGreaterThan(1.6);
    expect(e1).toBeLessThan(20 * Math.exp((-2 * Math.PI * d) / 5e-3));
    // Sixteen thousand roundings of a plain sum.
    expect(e4).toBeLessThan(1e-13);
  });

  test('Gauss-Legendre on straight and arc pieces converges as fast', () => {
    const loop = roundedLoop(44e-3, 30e-3, 6e-3);
    const at = pose({ x: 4e-3, y: 2e-3, z: 5e-3, tiltX: 0.1, yaw: 0.3 });
    const exact = mutualInductance(circle(20e-3), loop, at, { tolerance: 1e-12 }).value;
    const error = (h: number) =>
      Math.abs(
        doubleSum(windingNodes(circle(20e-3), h), transformNodes(windingNodes(loop, h), poseMatrix(at))) / exact - 1,
      );
    expect(error(5e-3)).toBeLessThan(2e-2);
    expect(error(2.5e-3)).toBeLessThan(1e-4);
    expect(error(0.6e-3)).toBeLessThan(1e-11);
  });

  test('chords with midpoints would only converge as 1 / n^2: the baseline to compare with', () => {
    const [a, d] = [20e-3, 5e-3];
    const exact = coaxialMutualInductance(a, a, d);
    const chords = (n: number): FilamentNodes => {
      const polygonNodes = {
        count: n,
        x: new Float64Array(n),
        y: new Float64Array(n),
        z: new Float64Array(n),
        dx: new Float64Array(n),
        dy: new Float64Array(n),
        dz: new Float64Array(n),
      };
      const step = (2 * Math.PI) / n;
      for (let i = 0; i < n; i++) {
        const middle = (i + 0.5) * step;
        polygonNodes.x[i] = a * Math.cos(step / 2) * Math.cos(middle);
        polygonNodes.y[i] = a * Math.cos(step / 2) * Math.sin(middle);
        polygonNodes.dx[i] = -2 * a * Math.sin(step / 2) * Math.sin(middle);
        polygonNodes.dy[i] = 2 * a * Math.sin(step / 2) * Math.cos(middle);
      }
      return polygonNodes;
    };
    const error = (n: number) =>
      Math.abs(doubleSum(chords(n), transformNodes(chords(n), poseMatrix(pose({ z: d })))) / exact - 1);
    expect(error(100) / error(200)).toBeCloseTo(4, 1);
  });
});

describe('poseMatrix and transformNodes', () => {
  test('p goes to Rx(tiltX) Ry(tiltY) Rz(yaw) p + c', () => {
    const [a, b, c] = [0.3, -0.2, 0.7];
    const m = poseMatrix({ x: 1, y: 2, z: 3, tiltX: a, tiltY: b, yaw: c });
    // Apply the three turns one after another to a point.
    let [x, y, z] = [0.4, -0.5, 0.6];
    [x, y] = [Math.cos(c) * x - Math.sin(c) * y, Math.sin(c) * x + Math.cos(c) * y];
    [x, z] = [Math.cos(b) * x + Math.sin(b) * z, -Math.sin(b) * x + Math.cos(b) * z];
    [y, z] = [Math.cos(a) * y - Math.sin(a) * z, Math.sin(a) * y + Math.cos(a) * z];
    const moved = [0, 3, 6].map((row, i) => m[row] * 0.4 - m[row + 1] * 0.5 + m[row + 2] * 0.6 + m[9 + i]);
    expect(moved[0]).toBeCloseTo(x + 1, 14);
    expect(moved[1]).toBeCloseTo(y + 2, 14);
    expect(moved[2]).toBeCloseTo(z + 3, 14);
  });

  test('transforming in place equals transforming into a copy', () => {
    const m = poseMatrix(pose({ x: 1e-3, z: 5e-3, yaw: 0.4, tiltX: 0.2, tiltY: 0.1 }));
    const nodes = windingNodes(circle(10e-3), 2e-3);
    const copy = transformNodes(nodes, m);
    const same = transformNodes(nodes, m, nodes);
    expect(same).toBe(nodes);
    expect([...same.x, ...same.dz]).toEqual([...copy.x, ...copy.dz]);
  });
});
