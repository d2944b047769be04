import { multiplyTransposed, multiplyVector } from './dense.ts';
import {
  type Code,
  encodeModule,
  f32x4,
  f64,
  get,
  i32,
  loopWhile,
  sequence,
  set,
  v128,
  type WasmFunction,
} from './wasm-encoder.ts';
import { startModule } from './wasm-instance.ts';

/** A matrix for products with many vectors, where six digits will do. */
export interface SingleMatrix {
  /** out = A v. */
  multiply(v: Float64Array, out: Float64Array): void;
  /** out = A^T v. */
  multiplyTransposed(v: Float64Array, out: Float64Array): void;
}

type MatrixMaker = (a: Float64Array, rows: number, columns: number) => SingleMatrix;

let shared: MatrixMaker | null = null;

/**
 * Takes a matrix, [rows, columns] row-major. Products are good to 1e-6 of the sum of what is added.
 * The SIMD form keeps one memory: a new matrix ends the last one.
 */
export function singleMatrix(a: Float64Array, rows: number, columns: number): SingleMatrix {
  shared ??= createSimdMatrix() ?? createScalarMatrix;
  return shared(a, rows, columns);
}

/** In plain JavaScript and double precision. */
export const createScalarMatrix: MatrixMaker = (a, rows, columns) => ({
  multiply: (v, out) => multiplyVector(a, v, rows, columns, out),
  multiplyTransposed: (v, out) => multiplyTransposed(a, v, rows, columns, out),
});

/** Vectors of four added at once, each to a sum of its own. */
const LANES = 4;
/** Numbers per step; rows are filled up to whole steps with zeros. */
const STEP = 4 * LANES;
const PAGE_BYTES = 65536;

/** dots(a, aEnd, v, rowBytes, out): the product of every row with v, as f64. Addresses and lengths in bytes. */
function dotsFunction(): WasmFunction {
  const [a, aEnd, v, rowBytes, out] = [0, 1, 2, 3, 4];
  const [at, rowEnd] = [5, 6];
  const sums = Array.from({ length: LANES }, (_, k) => 7 + k);
  const step = sequence(
    ...sums.map((sum, k) =>
      set(sum, f32x4.add(get(sum), f32x4.multiply(v128.load(get(a), 16 * k), v128.load(get(at), 16 * k)))),
    ),
    set(a, i32.add(get(a), i32.constant(4 * STEP))),
    set(at, i32.add(get(at), i32.constant(4 * STEP))),
  );
  const total = f32x4.add(f32x4.add(get(sums[0]!), get(sums[1]!)), f32x4.add(get(sums[2]!), get(sums[3]!)));
  const lanes = [0, 1, 2, 3].map((k): Code => f64.fromF32(f32x4.extract(get(sums[0]!), k)));
  const row = sequence(
    ...sums.map((sum) => set(sum, v128.zero)),
    set(at, get(v)),
    set(rowEnd, i32.add(get(a), get(rowBytes))),
    loopWhile(step, i32.lessUnsigned(get(a), get(rowEnd))),
    set(sums[0]!, total),
    f64.store(
      get(out),
      lanes.reduce((left, right) => f64.add(left, right)),
    ),
    set(out, i32.add(get(out), i32.constant(8))),
  );
  return {
    name: 'dots',
    parameters: ['i32', 'i32', 'i32', 'i32', 'i32'],
    result: 'i32',
    locals: ['i32', 'i32', ...new Array<'v128'>(LANES).fill('v128')],
    body: sequence(loopWhile(row, i32.lessUnsigned(get(a), get(aEnd))), i32.constant(0)),
  };
}

/** On WebAssembly SIMD, with the matrix and its transpose in single precision; null where the machine has none. */
export function createSimdMatrix(): MatrixMaker | null {
  const started = startModule(encodeModule([dotsFunction()], 1));
  if (!started) return null;
  const { memory, functions } = started;
  const padded = (count: number): number => Math.ceil(count / STEP) * STEP;
  return (a, rows, columns) => {
    const wide = padded(columns);
    const tall = padded(rows);
    const longest = Math.max(wide, tall);
    // Results (f64), the vector, the matrix, its transpose.
    const vectorAt = 8 * longest;
    const matrixAt = vectorAt + 4 * longest;
    const transposeAt = matrixAt + 4 * rows * wide;
    const end = transposeAt + 4 * columns * tall;
    const missing = end - memory.buffer.byteLength;
    if (missing > 0) memory.grow(Math.ceil(missing / PAGE_BYTES));
    const results = new Float64Array(memory.buffer, 0, longest);
    const vector = new Float32Array(memory.buffer, vectorAt, longest);
    const matrix = new Float32Array(memory.buffer, matrixAt, rows * wide);
    const transpose = new Float32Array(memory.buffer, transposeAt, columns * tall);
    for (let i = 0; i < rows; i++) {
      const row = i * wide;
      for (let j = 0, to = i; j < columns; j++, to += tall) {
        const value = a[i * columns + j]!;
        matrix[row + j] = value;
        transpose[to] = value;
      }
      matrix.fill(0, row + columns, row + wide);
    }
    for (let j = 0; j < columns; j++) transpose.fill(0, j * tall + rows, (j + 1) * tall);
    const product = (at: number, count: number, length: number, v: Float64Array, out: Float64Array, of: number) => {
      if (count * length === 0) {
        out.fill(0, 0, count);
        return;
      }
      for (let k = 0; k < of; k++) vector[k] = v[k]!;
      vector.fill(0, of, length);
      functions.dots!(at, at + 4 * count * length, vectorAt, 4 * length, 0);
      for (let k = 0; k < count; k++) out[k] = results[k]!;
    };
    return {
      multiply: (v, out) => product(matrixAt, rows, wide, v, out, columns),
      multiplyTransposed: (v, out) => product(transposeAt, columns, tall, v, out, rows),
    };
  };
}
