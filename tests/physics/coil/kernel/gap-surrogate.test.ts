import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../../src/numerics/random.ts';
import { createGapSurrogate, gapSurrogateDefaults } from '../../../../src/physics/coil/kernel/gap-surrogate.ts';
import { createPairKernel } from '../../../../src/physics/coil/kernel/pair-kernel.ts';
import { demoReceiver, demoTransmitter, midPlaneDistance, poseAt, randomCoil } from './support/coils.ts';

const SEED = Number(process.env.OFFCENTRE_SEED ?? 41_88_02);
const MM = 1e-3;

describe('along the distance', () => {
  it('12 points from 2 to 25 mm give 2e-7 for the demo coils', () => {
    const kernel = createPairKernel(demoTransmitter(), demoReceiver(), { tolerance: 1e-9 });
    const sample = (z: number) => kernel.mutual(poseAt(0, 0, z));
    const [low, high] = [2.375 * MM, 25.375 * MM];
    const surrogate = createGapSurrogate(sample, low, high, { points: 12, mostPoints: 12 });
    expect(surrogate.evaluations).toBe(12 + gapSurrogateDefaults.heldOut);
    const random = randomSource(SEED);
    const scale = sample(low).value;
    let worst = 0;
    for (let k = 0; k < 60; k++) {
      const z = low * (high / low) ** random.uniform();
      worst = Math.max(worst, Math.abs(surrogate.evaluate(z) - sample(z).value));
    }
    expect(worst).toBeLessThan(2e-7 * scale);
    expect(worst).toBeLessThan(surrogate.bound);
  });

  it(`fresh pairs and offsets keep the bound, seed ${SEED}`, () => {
    const random = randomSource(SEED);
    for (let k = 0; k < 10; k++) {
      const a = randomCoil(random);
      const b = randomCoil(random);
      const kernel = createPairKernel(a, b, { tolerance: 1e-8 });
      const x = k < 3 ? 0 : 20 * MM * random.uniform();
      const tiltX = k % 2 === 0 ? 0 : 0.05;
      const sample = (z: number) => kernel.mutual(poseAt(x, x / 2, z, 0.3, tiltX));
      const low = midPlaneDistance(a, b, 3.5 * MM);
      const scale = kernel.scale(poseAt(0, 0, low));
      const surrogate = createGapSurrogate(sample, low, 30 * MM, { scale });
      expect(surrogate.reached).toBe(true);
      expect(surrogate.bound).toBeLessThanOrEqual(gapSurrogateDefaults.tolerance * scale);
      for (let j = 0; j < 25; j++) {
        const z = low * (0.03 / low) ** random.uniform();
        expect(Math.abs(surrogate.evaluate(z) - sample(z).value)).toBeLessThan(surrogate.bound);
      }
    }
  });

  it('says when the points do not suffice, and knows its range', () => {
    const surrogate = createGapSurrogate(
      (z) => ({ value: 1 / (1 + 1e4 * (z - 0.5) ** 2), errorEstimate: 0, evaluations: 1 }),
      0.1,
      1,
      { points: 8, mostPoints: 12 },
    );
    expect(surrogate.reached).toBe(false);
    expect(surrogate.bound).toBeGreaterThan(1e-3);
    expect(surrogate.evaluate(0.05)).toBeNaN();
    expect(surrogate.evaluate(1.01)).toBeNaN();
    expect(surrogate.evaluate(0.1)).not.toBeNaN();
  });
});
