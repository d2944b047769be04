import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../../src/numerics/random.ts';
import { airOffsetMap, createOffsetMapper, offsetMapDefaults } from '../../../../src/physics/coil/kernel/offset-map.ts';
import { createPairKernel, referenceKernelOptions } from '../../../../src/physics/coil/kernel/pair-kernel.ts';
import type { Winding } from '../../../../src/physics/coil/types.ts';
import { windCoil } from '../../../../src/physics/coil/winding.ts';
import { demoReceiver, demoTransmitter, midPlaneDistance, poseAt, randomCoil } from './support/coils.ts';

const SEED = Number(process.env.OFFCENTRE_SEED ?? 55_21_07);
const MM = 1e-3;

/** Worst error over 50 random offsets, against the pair kernel in reference mode, as a share of the centre value. */
function verify(a: Winding, b: Winding, z: number, yaw: number, reach: number, seed: number) {
  const random = randomSource(seed);
  const line = () => Float64Array.from({ length: 50 }, (_, k) => (k === 0 ? 0 : reach * (2 * random.uniform() - 1)));
  const xs = line();
  const ys = line();
  const { m, errorEstimate } = airOffsetMap(a, b, z, yaw, xs, ys);
  const kernel = createPairKernel(a, b, referenceKernelOptions);
  const centre = Math.abs(kernel.mutual(poseAt(0, 0, z, yaw)).value);
  let worst = 0;
  for (let k = 0; k < 50; k++) {
    worst = Math.max(worst, Math.abs(m[50 * k + k]! - kernel.mutual(poseAt(xs[k]!, ys[k]!, z, yaw)).value));
  }
  return { worst: worst / centre, estimate: errorEstimate / centre };
}

describe(`50 random offsets off the grid, 1e-6 of the centre value, seed ${SEED}`, () => {
  it.each([
    [2, 0],
    [2, 0.5],
    [5, 0],
    [5, -1.2],
    [20, 0.3],
  ])('demo coils at a clear gap of %i mm, yaw %f', (gapMm, yaw) => {
    const a = demoTransmitter();
    const b = demoReceiver();
    const { worst, estimate } = verify(a, b, midPlaneDistance(a, b, gapMm * MM), yaw, 20 * MM, SEED + gapMm);
    expect(worst).toBeLessThan(1e-6);
    expect(worst).toBeLessThan(estimate);
    expect(estimate).toBeLessThan(2e-6);
  });

  it('filaments 2 mm apart', () => {
    const { worst, estimate } = verify(demoTransmitter(), demoReceiver(), 2.375 * MM, 0.2, 20 * MM, SEED);
    expect(worst).toBeLessThan(1e-6);
    expect(worst).toBeLessThan(estimate);
  });

  it('fresh pairs', () => {
    const random = randomSource(SEED);
    for (let k = 0; k < 8; k++) {
      const a = randomCoil(random);
      const b = randomCoil(random);
      const gap = 2 * MM * 12 ** random.uniform();
      const yaw = 3 * random.uniform();
      const { worst, estimate } = verify(
        a,
        b,
        midPlaneDistance(a, b, gap),
        yaw,
        (5 + 25 * random.uniform()) * MM,
        SEED + k,
      );
      expect(worst).toBeLessThan(1e-6);
      expect(worst).toBeLessThan(estimate);
    }
  });

  it('equal pitches over each other, where turns answer turns', () => {
    const { worst, estimate } = verify(demoTransmitter(), demoTransmitter(), 2 * MM, 0, 15 * MM, SEED);
    expect(worst).toBeLessThan(1e-6);
    expect(worst).toBeLessThan(estimate);
  });

  it('a true spiral, sloping pieces and return lead included', () => {
    const spiral = windCoil({ ...demoReceiver().spec, winding: 'spiral', leadSide: 1 });
    const outline = { shape: 'circle' as const, outerDiameter: 44 * MM, innerDiameter: 18 * MM };
    const round = windCoil({ ...demoTransmitter().spec, winding: 'spiral', outline });
    for (const a of [demoTransmitter(), round]) {
      expect(verify(a, spiral, 5 * MM, 0.4, 12 * MM, SEED).worst).toBeLessThan(1e-6);
    }
  });
});

describe('maps', () => {
  const a = demoTransmitter();
  const b = demoReceiver();
  const line = (count: number, reach: number) =>
    Float64Array.from({ length: count }, (_, k) => (reach * (2 * k - count + 1)) / (count - 1));

  it('are row-major [y][x] and mirror-symmetric for coils that are', () => {
    const xs = line(9, 16 * MM);
    const ys = line(5, 8 * MM);
    const { m, errorEstimate } = airOffsetMap(a, b, 6 * MM, 0, xs, ys);
    expect(m.length).toBe(45);
    const kernel = createPairKernel(a, b, { tolerance: 1e-7 });
    expect(Math.abs(m[1 * 9 + 7]! - kernel.mutual(poseAt(xs[7]!, ys[1]!, 6 * MM)).value)).toBeLessThan(
      2 * errorEstimate,
    );
    for (let j = 0; j < 5; j++) {
      for (let i = 0; i < 9; i++) {
        expect(Math.abs(m[9 * j + i]! - m[9 * (4 - j) + (8 - i)]!)).toBeLessThan(2 * errorEstimate);
      }
    }
  });

  it('gives the same bits for any order and any other maps in between', () => {
    const xs = line(17, 16 * MM);
    const once = airOffsetMap(a, b, 6 * MM, 0.3, xs, xs);
    const mapper = createOffsetMapper(a, b, 0.3, 16 * MM);
    mapper.map(3 * MM, xs, xs);
    mapper.map(12 * MM, xs, xs);
    expect(mapper.map(6 * MM, xs, xs)).toEqual(once);
    // One row of the map is the map of one row, to rounding: the product's blocks do not mix rows.
    const row = mapper.map(6 * MM, xs, xs.subarray(3, 4));
    for (let i = 0; i < 17; i++) expect(row.m[i]).toBe(once.m[3 * 17 + i]);
  });

  it('keeps a looser tolerance with fewer modes', () => {
    const xs = line(33, 16 * MM);
    const loose = airOffsetMap(a, b, 3 * MM, 0, xs, xs, { tolerance: 1e-4 });
    const tight = airOffsetMap(a, b, 3 * MM, 0, xs, xs, { tolerance: 1e-8 });
    expect(loose.evaluations).toBeLessThan(tight.evaluations);
    const worst = loose.m.reduce((most, value, k) => Math.max(most, Math.abs(value - tight.m[k]!)), 0);
    const centre = tight.m[16 * 33 + 16]!;
    expect(worst).toBeLessThan(loose.errorEstimate);
    expect(loose.errorEstimate).toBeLessThan(1.2e-4 * centre);
    expect(tight.errorEstimate).toBeLessThan(1.2e-8 * centre);
    expect(offsetMapDefaults.tolerance).toBe(1e-6);
  });
});
