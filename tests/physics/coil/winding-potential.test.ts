import { describe, expect, test } from 'vitest';
import { windingNodes } from '../../../src/physics/coil/nodes.ts';
import { piecePoint } from '../../../src/physics/coil/piece-geometry.ts';
import type { CoilSpec } from '../../../src/physics/coil/types.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import { potentialCost, windingPotential } from '../../../src/physics/coil/winding-potential.ts';
import { RECEIVER, TRANSMITTER } from './coils.ts';

describe('windingPotential', () => {
  const shapes: [string, CoilSpec][] = [
    ['circles', TRANSMITTER],
    ['rounded rectangles', RECEIVER],
    ['a spiral', { ...RECEIVER, winding: 'spiral' }],
  ];
  test.each(shapes)('%s: the potential is the sum over many nodes', (_, spec) => {
    const coil = windCoil(spec);
    const nodes = windingNodes(coil, 0.1e-3);
    const out = new Float64Array(3);
    for (const [x, y, z] of [
      [1e-3, 2e-3, 3e-3],
      [21e-3, 4e-3, 2e-3],
      [14e-3, 7e-3, -2e-3],
      [0, 0, 10e-3],
      [80e-3, 0, 5e-3],
    ]) {
      const sum = [0, 0, 0];
      let size = 0;
      for (let i = 0; i < nodes.count; i++) {
        const r = Math.hypot(x - nodes.x[i], y - nodes.y[i], z - nodes.z[i]);
        sum[0] += nodes.dx[i] / r;
        sum[1] += nodes.dy[i] / r;
        sum[2] += nodes.dz[i] / r;
        size += Math.hypot(nodes.dx[i], nodes.dy[i]) / r;
      }
      for (const tolerance of [1e-3, 1e-6, 1e-10]) {
        windingPotential(coil, tolerance).at(x, y, z, out);
        for (let k = 0; k < 3; k++) expect(Math.abs(out[k] - sum[k])).toBeLessThan(tolerance * size);
      }
    }
  });

  test.each(shapes)('%s: the distance is that to the nearest of many points', (_, spec) => {
    const coil = windCoil(spec);
    const { distance } = windingPotential(coil, 1e-3);
    for (const [x, y, z] of [
      [0, 0, 0],
      [23e-3, 12e-3, 1e-3],
      [16e-3, 9e-3, -3e-3],
      [0, 30e-3, 0],
    ]) {
      let least = Number.POSITIVE_INFINITY;
      for (const turn of coil.turns) {
        for (const piece of turn.pieces) {
          for (let i = 0; i <= 500; i++) {
            const [px, py, dz] = piecePoint(piece, i / 500);
            least = Math.min(least, Math.hypot(x - px, y - py, z - turn.z - dz));
          }
        }
      }
      expect(distance(x, y, z)).toBeLessThanOrEqual(least + 1e-12);
      expect(distance(x, y, z)).toBeGreaterThan(least - 2e-5);
    }
  });

  test('circles are the cheaper source', () => {
    expect(potentialCost(windCoil(TRANSMITTER))).toBeLessThan(potentialCost(windCoil(RECEIVER)));
  });
});
