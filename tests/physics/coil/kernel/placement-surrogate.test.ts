import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../../src/numerics/random.ts';
import { createPairKernel } from '../../../../src/physics/coil/kernel/pair-kernel.ts';
import {
  createPlacementSurrogate,
  placementSurrogateDefaults,
} from '../../../../src/physics/coil/kernel/placement-surrogate.ts';
import { demoReceiver, demoTransmitter, midPlaneDistance, poseAt, randomCoil } from './support/coils.ts';

const SEED = Number(process.env.OFFCENTRE_SEED ?? 90_33_11);
const MM = 1e-3;

describe('placements', () => {
  const a = demoTransmitter();
  const b = demoReceiver();
  const rest = midPlaneDistance(a, b, 5.9 * MM);
  const box = { x: [-16 * MM, 16 * MM], y: [-12 * MM, 18 * MM], z: [rest - 1 * MM, rest + 2 * MM] } as const;
  const surrogate = createPlacementSurrogate(a, b, 0.1, box);

  it(`keeps the bound at placements of its own seed, ${SEED}`, () => {
    const kernel = createPairKernel(a, b, { tolerance: 1e-8 });
    const random = randomSource(SEED);
    const between = ([low, high]: readonly [number, number]) => low + (high - low) * random.uniform();
    expect(surrogate.reached).toBe(true);
    expect(surrogate.bound).toBeLessThan(
      placementSurrogateDefaults.tolerance * 1.01 * kernel.scale(poseAt(0, 0, box.z[0])),
    );
    for (let k = 0; k < 120; k++) {
      const [x, y, z] = [between(box.x), between(box.y), k % 3 === 0 ? box.z[0] : between(box.z)];
      const exact = kernel.mutual(poseAt(x, y, z, 0.1)).value;
      expect(Math.abs(surrogate.evaluate(x, y, z) - exact)).toBeLessThan(surrogate.bound);
    }
  });

  it('gives the same for many as for one, and NaN outside', () => {
    const random = randomSource(5);
    const count = 700;
    const row = ([low, high]: readonly [number, number]) =>
      Float64Array.from({ length: count }, () => low + (high - low) * (1.1 * random.uniform() - 0.05));
    const [x, y, z] = [row(box.x), row(box.y), row(box.z)];
    const out = surrogate.evaluateMany(x, y, z, new Float64Array(count));
    let outside = 0;
    for (let k = 0; k < count; k++) {
      expect(out[k]).toBe(surrogate.evaluate(x[k]!, y[k]!, z[k]!));
      const inside = [x, y, z].every((values, axis) => {
        const [low, high] = [box.x, box.y, box.z][axis]!;
        return values[k]! >= low && values[k]! <= high;
      });
      expect(Number.isNaN(out[k]!)).toBe(!inside);
      if (!inside) outside++;
    }
    expect(outside).toBeGreaterThan(50);
    // The output may be one of the inputs.
    expect(surrogate.evaluateMany(x, y, z, x)).toEqual(out);
    for (const at of [box.z[0], box.z[1]]) expect(surrogate.evaluate(box.x[0], box.y[1], at)).not.toBeNaN();
  });

  it('takes a single distance, and fresh coils', () => {
    const random = randomSource(SEED);
    for (let k = 0; k < 3; k++) {
      const p = randomCoil(random);
      const q = randomCoil(random);
      const z = midPlaneDistance(p, q, 4 * MM);
      const flat = createPlacementSurrogate(p, q, 0.5, { x: [-8 * MM, 9 * MM], y: [-7 * MM, 7 * MM], z: [z, z] });
      const kernel = createPairKernel(p, q, { tolerance: 1e-8 });
      for (let j = 0; j < 20; j++) {
        const x = 8 * MM * (2 * random.uniform() - 1);
        const y = 7 * MM * (2 * random.uniform() - 1);
        expect(Math.abs(flat.evaluate(x, y, z) - kernel.mutual(poseAt(x, y, z, 0.5)).value)).toBeLessThan(flat.bound);
      }
    }
  });
});
