import {
  encodeModule,
  f64,
  f64x2,
  get,
  i32,
  loopWhile,
  sequence,
  set,
  v128,
  type WasmFunction,
} from '../../../numerics/wasm-encoder.ts';
import { startModule } from '../../../numerics/wasm-instance.ts';

/** Points of the local polynomial along x and along y. */
export const STENCIL = 6;

/**
 * A table of coefficients [rows, columns, depth] row-major and a batch of placements in it. Each placement has a record of
 * 2 STENCIL + depth numbers: weights along y, weights along x, factors along the depth.
 */
export interface StencilTable {
  readonly values: Float64Array;
  readonly columns: number;
  /** Even. */
  readonly depth: number;
}

export interface StencilEngine {
  readonly kind: 'simd' | 'scalar';
  /** Most placements in one call. */
  readonly batch: number;
  /**
   * out[from + p] = sum over rows r, columns c, depth k of wy[r] wx[c] f[k] values[first[p] + (r * columns + c) * depth + k].
   * @param records [count, 2 STENCIL + depth]; @param first index of each placement's first value
   */
  run(records: Float64Array, first: Int32Array, count: number, out: Float64Array, from: number): void;
}

const BATCH = 256;
const PAGE_BYTES = 65536;

/** run(record, recordEnd, first, out, table, rowBytes, depthBytes): addresses and lengths in bytes. */
function stencilFunction(): WasmFunction {
  const [record, recordEnd, first, out, table, rowBytes, depthBytes] = [0, 1, 2, 3, 4, 5, 6];
  const [value, factor, factors, factorsEnd, weight, row] = [7, 8, 9, 10, 11, 12];
  const [total, across, sum] = [13, 14, 15];
  const weightBytes = 8 * STENCIL;
  const depthLoop = loopWhile(
    sequence(
      set(sum, f64x2.add(get(sum), f64x2.multiply(v128.load(get(value)), v128.load(get(factor))))),
      set(value, i32.add(get(value), i32.constant(16))),
      set(factor, i32.add(get(factor), i32.constant(16))),
    ),
    i32.lessUnsigned(get(factor), get(factorsEnd)),
  );
  const columnLoop = loopWhile(
    sequence(
      set(sum, v128.zero),
      set(factor, get(factors)),
      depthLoop,
      set(across, f64x2.add(get(across), f64x2.multiply(v128.load64Splat(get(weight), weightBytes), get(sum)))),
      set(weight, i32.add(get(weight), i32.constant(8))),
    ),
    // The x weights are read one weight row ahead of the pointer: it stops where the x weights begin.
    i32.lessUnsigned(get(weight), i32.add(get(record), i32.constant(weightBytes))),
  );
  const rowLoop = loopWhile(
    sequence(
      set(across, v128.zero),
      set(weight, get(record)),
      columnLoop,
      set(total, f64x2.add(get(total), f64x2.multiply(v128.load64Splat(get(row)), get(across)))),
      set(value, i32.add(get(value), get(rowBytes))),
      set(row, i32.add(get(row), i32.constant(8))),
    ),
    i32.lessUnsigned(get(row), i32.add(get(record), i32.constant(weightBytes))),
  );
  const body = loopWhile(
    sequence(
      set(total, v128.zero),
      set(row, get(record)),
      set(factors, i32.add(get(record), i32.constant(2 * weightBytes))),
      set(factorsEnd, i32.add(get(factors), get(depthBytes))),
      set(value, i32.add(get(table), i32.load(get(first)))),
      rowLoop,
      f64.store(get(out), f64.add(f64x2.extract(get(total), 0), f64x2.extract(get(total), 1))),
      set(record, get(factorsEnd)),
      set(first, i32.add(get(first), i32.constant(4))),
      set(out, i32.add(get(out), i32.constant(8))),
    ),
    i32.lessUnsigned(get(record), get(recordEnd)),
  );
  return {
    name: 'run',
    parameters: new Array<'i32'>(7).fill('i32'),
    result: 'i32',
    locals: [...new Array<'i32'>(6).fill('i32'), ...new Array<'v128'>(3).fill('v128')],
    body: sequence(body, i32.constant(0)),
  };
}

/** The engine for one table on WebAssembly SIMD; it holds a copy of the table. Null where there is none. */
export function createSimdStencil(table: StencilTable): StencilEngine | null {
  const { values, columns, depth } = table;
  const length = 2 * STENCIL + depth;
  const startFirst = 8 * BATCH * length;
  const startOut = startFirst + 4 * BATCH;
  const startTable = startOut + 8 * BATCH;
  const started = startModule(
    encodeModule([stencilFunction()], Math.ceil((startTable + 8 * values.length) / PAGE_BYTES)),
  );
  if (!started) return null;
  const numbers = new Float64Array(started.memory.buffer);
  const words = new Int32Array(started.memory.buffer);
  numbers.set(values, startTable / 8);
  const run = started.functions.run!;
  const skip = 8 * depth * (columns - STENCIL);
  return {
    kind: 'simd',
    batch: BATCH,
    run(records, first, count, out, from) {
      numbers.set(records.subarray(0, count * length));
      for (let p = 0; p < count; p++) words[startFirst / 4 + p] = 8 * first[p]!;
      run(0, 8 * count * length, startFirst, startOut, startTable, skip, 8 * depth);
      out.set(numbers.subarray(startOut / 8, startOut / 8 + count), from);
    },
  };
}

/** The same in plain JavaScript, with the sums in the same order. */
export function createScalarStencil({ values, columns, depth }: StencilTable): StencilEngine {
  const length = 2 * STENCIL + depth;
  return {
    kind: 'scalar',
    batch: BATCH,
    run(records, first, count, out, from) {
      for (let p = 0; p < count; p++) {
        const record = p * length;
        let even = 0;
        let odd = 0;
        for (let r = 0; r < STENCIL; r++) {
          let base = first[p]! + r * columns * depth;
          let acrossEven = 0;
          let acrossOdd = 0;
          for (let c = 0; c < STENCIL; c++) {
            let sumEven = 0;
            let sumOdd = 0;
            for (let k = 0; k < depth; k += 2) {
              const factor = record + 2 * STENCIL + k;
              sumEven += values[base + k]! * records[factor]!;
              sumOdd += values[base + k + 1]! * records[factor + 1]!;
            }
            acrossEven += records[record + STENCIL + c]! * sumEven;
            acrossOdd += records[record + STENCIL + c]! * sumOdd;
            base += depth;
          }
          even += records[record + r]! * acrossEven;
          odd += records[record + r]! * acrossOdd;
        }
        out[from + p] = even + odd;
      }
    },
  };
}
