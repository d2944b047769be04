import { describe, expect, it } from 'vitest';
import { coaxialMutualInductance } from '../../../../src/physics/coil/coaxial-circles.ts';
import {
  createSimdEngine,
  scalarEngine,
  type TargetBlock,
} from '../../../../src/physics/coil/kernel/neumann-engine.ts';
import { meanSteps } from '../../../../src/physics/coil/kernel/ring-code.ts';

const MM = 1e-3;

/** A coaxial circle of radius `rho` at `height` needs one node: the integrand is the same all around. Millimetres. */
function coaxialTarget(rho: number, height: number): TargetBlock {
  const values = new Float64Array(20);
  values.fill(height * height, 16);
  values.fill(1, 0, 4);
  values[0] = rho;
  values[12] = 2 * Math.PI * rho;
  return { form: 'planar', count: 4, values };
}

describe('steps of the mean', () => {
  it.each(Object.entries(meanSteps))('%s precision: enough from 100 radii down to a thousandth', (precision, steps) => {
    expect(steps).toBeGreaterThan(3);
    const simd = createSimdEngine()!;
    for (const rho of [0.01, 1, 19, 20, 21, 400]) {
      for (const height of [0.02, 0.2, 2, 20, 2000]) {
        if (precision === 'single' && height < 0.2) continue;
        const exact = coaxialMutualInductance(20 * MM, rho * MM, height * MM);
        const engines = precision === 'single' ? [simd] : [simd, scalarEngine];
        for (const engine of engines) {
          const sum = engine.ringSum(
            { count: 1, values: Float64Array.of(20, 1) },
            coaxialTarget(rho, height),
            precision as 'single' | 'double',
          );
          const value = 1e-7 * MM * sum;
          expect(Math.abs(value / exact - 1)).toBeLessThan(precision === 'single' ? 2e-6 : 1e-12);
        }
      }
    }
  });
});
