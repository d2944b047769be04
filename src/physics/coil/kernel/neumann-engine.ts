import { encodeModule } from '../../../numerics/wasm-encoder.ts';
import { startModule } from '../../../numerics/wasm-instance.ts';
import { layout, type NodeForm, neumannFunction, type Precision, rows } from './neumann-code.ts';
import { meanSteps, ringFunction, ringTargetRows } from './ring-code.ts';

/** Source nodes of one sum, rows as in `rows[form].source`, each `count` long; `count` is a multiple of 4. Millimetres. */
export interface SourceBlock {
  readonly form: NodeForm;
  readonly count: number;
  /** [rows, count] row-major. */
  readonly double: Float64Array;
  readonly single: Float32Array;
}

/** Target nodes, rows as in `rows[form].target`; `count` is even. Millimetres. */
export interface TargetBlock {
  readonly form: NodeForm;
  readonly count: number;
  readonly values: Float64Array;
}

/** Coaxial circular turns in one plane: rows radius, weight. Millimetres. */
export interface RingBlock {
  readonly count: number;
  /** [2, count] row-major. */
  readonly values: Float64Array;
}

/** Computes sum dl_i . dl_j / |r_i - r_j| in millimetres. */
export interface NeumannEngine {
  readonly kind: 'simd' | 'scalar';
  sum(source: SourceBlock, target: TargetBlock, precision: Precision): number;
  /**
   * The same with whole rings as sources, integrated in closed form.
   * @param target planar form, x and y from the rings' centre; `count` a multiple of 4
   */
  ringSum(rings: RingBlock, target: TargetBlock, precision: Precision): number;
}

/** Bytes of the module; well under 4 kB, so that every browser lets the page's own thread compile it on the spot. */
export function neumannModule(): Uint8Array<ArrayBuffer> {
  return encodeModule(
    [
      neumannFunction('planar_single', 'planar', 'single'),
      neumannFunction('planar_double', 'planar', 'double'),
      neumannFunction('spatial_single', 'spatial', 'single'),
      neumannFunction('spatial_double', 'spatial', 'double'),
      ringFunction('ring_single', 'single'),
      ringFunction('ring_double', 'double'),
    ],
    layout.memoryPages,
  );
}

/**
 * The engine on WebAssembly SIMD, or null where the machine has none. Same bits on every machine that has it: lanes are
 * IEEE 754 and their order is fixed.
 */
export function createSimdEngine(): NeumannEngine | null {
  const started = startModule(neumannModule());
  if (!started) return null;
  const { functions } = started;
  const { buffer } = started.memory;
  const double = new Float64Array(buffer);
  const single = new Float32Array(buffer);
  const { sourceCapacity, targetCapacity, sourceRowBytes, targetRowBytes, targetStart } = layout;

  const loadSource = (source: SourceBlock, precision: Precision, from: number, length: number): void => {
    for (let row = 0; row < rows[source.form].source.length; row++) {
      const at = row * source.count + from;
      if (precision === 'single') single.set(source.single.subarray(at, at + length), (row * sourceRowBytes) / 4);
      else double.set(source.double.subarray(at, at + length), (row * sourceRowBytes) / 8);
    }
  };
  const loadTarget = (target: TargetBlock, from: number, length: number): void => {
    for (let row = 0; row < rows[target.form].target.length; row++) {
      const at = row * target.count + from;
      double.set(target.values.subarray(at, at + length), (targetStart + row * targetRowBytes) / 8);
    }
  };

  return {
    kind: 'simd',
    sum(source, target, precision) {
      const run = functions[`${source.form}_${precision}`]!;
      const width = precision === 'single' ? 4 : 8;
      let total = 0;
      for (let j = 0; j < target.count; j += targetCapacity) {
        const targets = Math.min(targetCapacity, target.count - j);
        loadTarget(target, j, targets);
        for (let i = 0; i < source.count; i += sourceCapacity) {
          const sources = Math.min(sourceCapacity, source.count - i);
          loadSource(source, precision, i, sources);
          total += run(sources * width, targets * 8);
        }
      }
      return total;
    },
    ringSum(rings, target, precision) {
      const run = functions[`ring_${precision}`]!;
      const width = precision === 'single' ? 4 : 8;
      let total = 0;
      for (let i = 0; i < rings.count; i += targetCapacity) {
        const length = Math.min(targetCapacity, rings.count - i);
        for (let row = 0; row < 2; row++) {
          const at = row * rings.count + i;
          double.set(rings.values.subarray(at, at + length), (targetStart + row * targetRowBytes) / 8);
        }
        for (let j = 0; j < target.count; j += sourceCapacity) {
          const targets = Math.min(sourceCapacity, target.count - j);
          const view = precision === 'single' ? single : double;
          RING_ROWS.forEach((from, row) => {
            const at = from * target.count + j;
            view.set(target.values.subarray(at, at + targets), (row * sourceRowBytes) / width);
          });
          total += run(targets * width, length * 8);
        }
      }
      return total;
    },
  };
}

/** Rows of a planar target in the order of `ringTargetRows`. */
const RING_ROWS = ringTargetRows.map((name) => rows.planar.target.indexOf(name));

/** The engine in plain JavaScript, always in double precision: the reference, and the fallback. */
export const scalarEngine: NeumannEngine = {
  kind: 'scalar',
  sum(source, target) {
    return source.form === 'planar' ? planarSum(source, target) : spatialSum(source, target);
  },
  ringSum(rings, target) {
    const m = target.count;
    const t = target.values;
    let total = 0;
    for (let j = 0; j < m; j++) {
      const x = t[j]!;
      const y = t[m + j]!;
      const rho = Math.sqrt(x * x + y * y);
      let sum = 0;
      for (let i = 0; i < rings.count; i++) {
        sum += rings.values[rings.count + i]! * ringShare(rings.values[i]!, rho, t[4 * m + j]!);
      }
      total += sum * (x * t[3 * m + j]! - y * t[2 * m + j]!);
    }
    return total;
  },
};

/** (pi / 2) sum 2^n q_n^2 / a: see `ringFunction`. */
function ringShare(radius: number, rho: number, height2: number): number {
  const far = radius + rho;
  const near = radius - rho;
  let a = Math.sqrt(far * far + height2);
  let b = Math.sqrt(near * near + height2);
  let twice = a + b;
  b = Math.sqrt(a * b);
  a = twice / 2;
  let q = radius / a;
  let sum = 2 * q * q;
  let weight = 4;
  for (let n = 2; n <= meanSteps.double; n++) {
    const c = rho * q;
    twice = a + b;
    b = Math.sqrt(a * b);
    a = twice / 2;
    q = (q * c) / (2 * twice);
    sum += weight * q * q;
    weight *= 2;
  }
  return (Math.PI * sum) / (a + b);
}

function planarSum(source: SourceBlock, target: TargetBlock): number {
  const n = source.count;
  const m = target.count;
  const a = source.double;
  const b = target.values;
  let total = 0;
  for (let j = 0; j < m; j++) {
    const x = b[j]!;
    const y = b[m + j]!;
    const dx = b[2 * m + j]!;
    const dy = b[3 * m + j]!;
    const height2 = b[4 * m + j]!;
    let sum = 0;
    for (let i = 0; i < n; i++) {
      const p = a[i]! - x;
      const q = a[n + i]! - y;
      sum += (a[2 * n + i]! * dx + a[3 * n + i]! * dy) / Math.sqrt(p * p + q * q + height2);
    }
    total += sum;
  }
  return total;
}

function spatialSum(source: SourceBlock, target: TargetBlock): number {
  const n = source.count;
  const m = target.count;
  const a = source.double;
  const b = target.values;
  let total = 0;
  for (let j = 0; j < m; j++) {
    let sum = 0;
    for (let i = 0; i < n; i++) {
      const p = a[i]! - b[j]!;
      const q = a[n + i]! - b[m + j]!;
      const r = a[2 * n + i]! - b[2 * m + j]!;
      const product = a[3 * n + i]! * b[3 * m + j]! + a[4 * n + i]! * b[4 * m + j]! + a[5 * n + i]! * b[5 * m + j]!;
      sum += product / Math.sqrt(p * p + q * q + r * r);
    }
    total += sum;
  }
  return total;
}

let shared: NeumannEngine | null = null;

/** The fastest engine of this machine; made on first use, one per thread. */
export function neumannEngine(): NeumannEngine {
  shared ??= createSimdEngine() ?? scalarEngine;
  return shared;
}
