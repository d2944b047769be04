import { layout, type NodeForm, neumannFunction, type Precision, rows } from './neumann-code.ts';
import { encodeModule } from './wasm-encoder.ts';

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

/** Computes sum dl_i . dl_j / |r_i - r_j| in millimetres. */
export interface NeumannEngine {
  readonly kind: 'simd' | 'scalar';
  sum(source: SourceBlock, target: TargetBlock, precision: Precision): number;
}

/** The part of the WebAssembly interface used here: the pure layers compile without the DOM library. */
interface WebAssemblyGlobal {
  readonly Module: new (bytes: Uint8Array<ArrayBuffer>) => object;
  readonly Instance: new (module: object) => { readonly exports: Readonly<Record<string, unknown>> };
  readonly validate: (bytes: Uint8Array<ArrayBuffer>) => boolean;
}
type Sum = (sourceBytes: number, targetBytes: number) => number;

/** Bytes of the module; well under 4 kB, so that every browser lets the page's own thread compile it on the spot. */
export function neumannModule(): Uint8Array<ArrayBuffer> {
  return encodeModule(
    [
      neumannFunction('planar_single', 'planar', 'single'),
      neumannFunction('planar_double', 'planar', 'double'),
      neumannFunction('spatial_single', 'spatial', 'single'),
      neumannFunction('spatial_double', 'spatial', 'double'),
    ],
    layout.memoryPages,
  );
}

/**
 * The engine on WebAssembly SIMD, or null where the machine has none. Same bits on every machine that has it: lanes are
 * IEEE 754 and their order is fixed.
 */
export function createSimdEngine(): NeumannEngine | null {
  const api = (globalThis as unknown as { readonly WebAssembly?: WebAssemblyGlobal }).WebAssembly;
  if (!api) return null;
  const bytes = neumannModule();
  if (!api.validate(bytes)) return null;
  const { exports } = new api.Instance(new api.Module(bytes));
  const { buffer } = exports.memory as { readonly buffer: ArrayBuffer };
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
      const run = exports[`${source.form}_${precision}`] as Sum;
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
  };
}

/** The engine in plain JavaScript, always in double precision: the reference, and the fallback. */
export const scalarEngine: NeumannEngine = {
  kind: 'scalar',
  sum(source, target) {
    return source.form === 'planar' ? planarSum(source, target) : spatialSum(source, target);
  },
};

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
