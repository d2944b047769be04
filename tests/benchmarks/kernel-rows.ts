import { layout } from '../../src/physics/coil/kernel/neumann-code.ts';
import {
  createSimdEngine,
  type NeumannEngine,
  type SourceBlock,
  scalarEngine,
  type TargetBlock,
} from '../../src/physics/coil/kernel/neumann-engine.ts';
import type { Row, Target } from './table.ts';
import { type Timing, time } from './timing.ts';

const TARGETS = 1600;

const scale = (timing: Timing, factor: number): Timing => ({
  min: timing.min * factor,
  median: timing.median * factor,
  max: timing.max * factor,
  runs: timing.runs,
});

/** Two coils' worth of nodes at 2 mm, on circles, so that the error against double precision means something. */
function blocks(sources: number): [SourceBlock, TargetBlock] {
  const double = new Float64Array(4 * sources);
  const values = new Float64Array(5 * TARGETS);
  const ring = (count: number, k: number, phase: number) => {
    const angle = phase + (2 * Math.PI * 10 * k) / count;
    return { angle, radius: 11 + k / (count / 10), element: (2 * Math.PI * 10) / count };
  };
  for (let i = 0; i < sources; i++) {
    const { angle, radius, element } = ring(sources, i, 0);
    double.set([radius * Math.cos(angle)], i);
    double.set([radius * Math.sin(angle)], sources + i);
    double.set([-radius * element * Math.sin(angle)], 2 * sources + i);
    double.set([radius * element * Math.cos(angle)], 3 * sources + i);
  }
  for (let j = 0; j < TARGETS; j++) {
    const { angle, radius, element } = ring(TARGETS, j, 0.3);
    values.set([radius * Math.cos(angle) + 3], j);
    values.set([radius * Math.sin(angle)], TARGETS + j);
    values.set([-radius * element * Math.sin(angle)], 2 * TARGETS + j);
    values.set([radius * element * Math.cos(angle)], 3 * TARGETS + j);
    values[4 * TARGETS + j] = 4;
  }
  return [
    { form: 'planar', count: sources, double, single: Float32Array.from(double) },
    { form: 'planar', count: TARGETS, values },
  ];
}

export function kernelRows(limit: { readonly double: number; readonly single: number } | null): {
  rows: Row[];
  targets: Target[];
} {
  const rows: Row[] = [];
  const group = 'kernel, one evaluation';
  const simd = createSimdEngine();
  const input = blocks(1016);
  const exact = scalarEngine.sum(...input, 'double');
  const scalar = scale(
    time(() => scalarEngine.sum(...input, 'double')),
    1 / (1016 * TARGETS),
  );
  const once = (milliseconds: number): Timing => ({
    min: milliseconds,
    median: milliseconds,
    max: milliseconds,
    runs: 1,
  });
  if (limit) {
    rows.push(
      { group, name: 'C, double', time: once(limit.double / 1e6), error: null, note: 'limit', ratios: {} },
      { group, name: 'C, AVX2 single', time: once(limit.single / 1e6), error: null, note: 'limit', ratios: {} },
    );
  }
  const add = (name: string, timing: Timing, error: number, note = '') => {
    const ratios: Record<string, number> = { 'faster than scalar': scalar.min / timing.min };
    if (limit) ratios['slower than C AVX2'] = (1e6 * timing.min) / limit.single;
    rows.push({ group, name, time: timing, error, note, ratios });
    return ratios;
  };
  add('JavaScript, double', scalar, 0, 'the reference');
  const targets: Target[] = [];
  if (simd) {
    for (const precision of ['double', 'single'] as const) {
      const timing = scale(
        time(() => simd.sum(...input, precision)),
        1 / (1016 * TARGETS),
      );
      const ratios = add(
        `WebAssembly, ${precision}`,
        timing,
        Math.abs(simd.sum(...input, precision) / exact - 1),
        precision === 'single' ? 'sums across nodes in double' : '',
      );
      if (precision === 'single' && limit) {
        const measured = ratios['slower than C AVX2']!;
        targets.push({
          name: 'kernel against AVX2 C, per evaluation',
          wanted: 'at most 3.5 times',
          measured: `${measured.toFixed(2)} times`,
          met: measured <= 3.5,
        });
      }
    }
    rows.push(...ringRows(simd, input[1]), ...nodeGrowth(simd));
  }
  return { rows, targets };
}

function ringRows(simd: NeumannEngine, target: TargetBlock): Row[] {
  const rings = { count: 10, values: Float64Array.from({ length: 20 }, (_, k) => (k < 10 ? 11.3 + k : 1)) };
  const exact = scalarEngine.ringSum(rings, target, 'double');
  return (['double', 'single'] as const).map((precision) => ({
    group: 'kernel, one evaluation',
    name: `whole ring, ${precision}`,
    time: scale(
      time(() => simd.ringSum(rings, target, precision)),
      1 / (10 * TARGETS),
    ),
    error: Math.abs(simd.ringSum(rings, target, precision) / exact - 1),
    note: 'replaces all nodes of one circular turn',
    ratios: {},
  }));
}

function nodeGrowth(simd: NeumannEngine): Row[] {
  let first = 0;
  return [254, 508, 1016, 2032, 4064].map((asked) => {
    const count = asked & ~3;
    const input = blocks(count);
    const timing = time(() => simd.sum(...input, 'single'), 150);
    if (first === 0) first = timing.min / count;
    return {
      group: `growth with nodes (${TARGETS} targets, blocks of ${layout.sourceCapacity})`,
      name: `${count} nodes`,
      time: timing,
      error: Math.abs(simd.sum(...input, 'single') / scalarEngine.sum(...input, 'double') - 1),
      note: '',
      ratios: { 'of linear growth': timing.min / count / first },
    };
  });
}
