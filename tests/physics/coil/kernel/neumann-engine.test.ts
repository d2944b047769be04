import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../../src/numerics/random.ts';
import { type NodeForm, rows } from '../../../../src/physics/coil/kernel/neumann-code.ts';
import {
  createSimdEngine,
  neumannEngine,
  type SourceBlock,
  scalarEngine,
  type TargetBlock,
} from '../../../../src/physics/coil/kernel/neumann-engine.ts';

const simd = createSimdEngine()!;

/** Nodes within 20 mm, targets 25 to 30 mm above. */
function blocks(form: NodeForm, sources: number, targets: number, seed: number): [SourceBlock, TargetBlock] {
  const random = randomSource(seed);
  const about = (most: number) => most * (2 * random.uniform() - 1);
  const double = new Float64Array(rows[form].source.length * sources).map((_, k) => {
    const row = rows[form].source[Math.floor(k / sources)]!;
    return row.startsWith('d') ? about(1) : row === 'z' ? about(2) : about(20);
  });
  const values = new Float64Array(rows[form].target.length * targets).map((_, k) => {
    const row = rows[form].target[Math.floor(k / targets)]!;
    if (row === 'height2') return (27 + about(2)) ** 2;
    return row.startsWith('d') ? about(1) : row === 'z' ? 27 + about(2) : about(20);
  });
  return [
    { form, count: sources, double, single: Float32Array.from(double) },
    { form, count: targets, values },
  ];
}

/** The definition, and the sum of its absolute terms. */
function defined([source, target]: [SourceBlock, TargetBlock]): { sum: number; absolute: number } {
  const at = (block: Float64Array, names: readonly string[], count: number, name: string, k: number) =>
    names.includes(name) ? block[names.indexOf(name) * count + k]! : 0;
  const s = (name: string, i: number) => at(source.double, rows[source.form].source, source.count, name, i);
  const t = (name: string, j: number) => at(target.values, rows[target.form].target, target.count, name, j);
  let sum = 0;
  let absolute = 0;
  for (let j = 0; j < target.count; j++) {
    for (let i = 0; i < source.count; i++) {
      const height2 = source.form === 'planar' ? t('height2', j) : (s('z', i) - t('z', j)) ** 2;
      const distance = Math.sqrt((s('x', i) - t('x', j)) ** 2 + (s('y', i) - t('y', j)) ** 2 + height2);
      const product = s('dx', i) * t('dx', j) + s('dy', i) * t('dy', j) + s('dz', i) * t('dz', j);
      sum += product / distance;
      absolute += Math.abs(product) / distance;
    }
  }
  return { sum, absolute };
}

describe.each(['planar', 'spatial'] as const)('%s node sums', (form) => {
  it.each([
    [4, 2],
    [8, 6],
    [200, 302],
  ])('%i sources by %i targets', (sources, targets) => {
    const input = blocks(form, sources, targets, 7);
    const { sum, absolute } = defined(input);
    expect(Math.abs(scalarEngine.sum(...input, 'double') - sum)).toBeLessThan(1e-13 * absolute);
    expect(Math.abs(simd.sum(...input, 'double') - sum)).toBeLessThan(1e-13 * absolute);
    expect(Math.abs(simd.sum(...input, 'single') - sum)).toBeLessThan(3e-8 * absolute);
  });

  it('splits what does not fit one call', () => {
    const input = blocks(form, 1028, 4098, 8);
    const exact = scalarEngine.sum(...input, 'double');
    // Random terms: the sum of absolute terms is about sqrt(4 million) times the sum.
    expect(Math.abs(simd.sum(...input, 'double') / exact - 1)).toBeLessThan(1e-9);
    expect(Math.abs(simd.sum(...input, 'single') / exact - 1)).toBeLessThan(1e-3);
  });

  it('gives the same bits every time, also between calls of another shape', () => {
    const input = blocks(form, 64, 40, 3);
    const first = [simd.sum(...input, 'single'), simd.sum(...input, 'double')];
    simd.sum(...blocks('planar', 300, 300, 4), 'double');
    simd.sum(...blocks('spatial', 300, 300, 5), 'single');
    expect([simd.sum(...input, 'single'), simd.sum(...input, 'double')]).toEqual(first);
  });
});

describe('ring sums', () => {
  const rings = { count: 3, values: Float64Array.of(20, 13, 0.5, 1, -0.5, 2) };
  const input = blocks('planar', 4, 48, 11)[1];
  input.values.set([0, 0, 1e-9, 20, 13], 0);
  input.values.fill(4, 4 * input.count);

  it('equals fine polygons', () => {
    const nodes = 1500;
    const double = new Float64Array(4 * 3 * nodes);
    for (let ring = 0; ring < 3; ring++) {
      for (let k = 0; k < nodes; k++) {
        const angle = (2 * Math.PI * k) / nodes;
        const radius = rings.values[ring]!;
        const element = (rings.values[3 + ring]! * radius * 2 * Math.PI) / nodes;
        double[ring * nodes + k] = radius * Math.cos(angle);
        double[(3 + ring) * nodes + k] = radius * Math.sin(angle);
        double[(6 + ring) * nodes + k] = -element * Math.sin(angle);
        double[(9 + ring) * nodes + k] = element * Math.cos(angle);
      }
    }
    const exact = defined([{ form: 'planar', count: 3 * nodes, double, single: new Float32Array() }, input]);
    expect(Math.abs(scalarEngine.ringSum(rings, input, 'double') / exact.sum - 1)).toBeLessThan(1e-12);
    expect(Math.abs(simd.ringSum(rings, input, 'double') / exact.sum - 1)).toBeLessThan(1e-12);
    expect(Math.abs(simd.ringSum(rings, input, 'single') - exact.sum)).toBeLessThan(1e-7 * exact.absolute);
  });

  it('keeps its digits far away, where the field is a dipole and plain elliptic formulas cancel', () => {
    // A small tangential element at (rho, h) far off sees m A: 2 pi-normalised, pi R^2 rho / (rho^2 + h^2)^1.5.
    const [radius, rho, height] = [1, 3e4, 4e4];
    const target: TargetBlock = { form: 'planar', count: 4, values: new Float64Array(20) };
    target.values.fill(height * height, 16);
    target.values.fill(rho, 0, 4);
    target.values[12] = 1;
    const exact = (Math.PI * radius * radius * rho) / (rho * rho + height * height) ** 1.5;
    for (const engine of [simd, scalarEngine]) {
      const value = engine.ringSum({ count: 1, values: Float64Array.of(radius, 1) }, target, 'double');
      // The next multipole is (R / distance)^2 = 4e-10 smaller.
      expect(Math.abs(value / exact - 1)).toBeLessThan(2e-9);
    }
  });
});

it('offers one engine per thread', () => {
  expect(neumannEngine()).toBe(neumannEngine());
  expect(neumannEngine().kind).toBe('simd');
});
