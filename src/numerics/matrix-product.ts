import {
  type Code,
  encodeModule,
  f64x2,
  get,
  i32,
  loopWhile,
  sequence,
  set,
  v128,
  type WasmFunction,
} from './wasm-encoder.ts';
import { startModule } from './wasm-instance.ts';

/** Adds a b to `out` and returns it; all row-major: a [rows, inner], b [inner, columns], out [rows, columns]. */
export type MatrixProduct = (
  a: Float64Array,
  b: Float64Array,
  rows: number,
  inner: number,
  columns: number,
  out: Float64Array,
) => Float64Array;

/** Rows and columns of one block of the product that stays in registers. */
const BLOCK_ROWS = 2;
const BLOCK_COLUMNS = 8;
const PAGE_BYTES = 65536;

/** product(a, b, out, aEnd, rowBytesA, rowBytesB): addresses and lengths in bytes; overwrites out. */
function productFunction(): WasmFunction {
  const [a, b, out, aEnd, rowA, rowB] = [0, 1, 2, 3, 4, 5];
  const [column, upper, lower, end, line] = [6, 7, 8, 9, 10];
  const sums = Array.from({ length: BLOCK_ROWS * 4 }, (_, k) => 11 + k);
  const loaded = Array.from({ length: 4 }, (_, k) => 19 + k);
  const [left] = [23];
  const inner: Code[] = loaded.map((one, k) => set(one, v128.load(get(line), 16 * k)));
  [upper, lower].forEach((pointer, row) => {
    inner.push(set(left, v128.load64Splat(get(pointer))));
    loaded.forEach((one, k) => {
      const at = sums[4 * row + k]!;
      inner.push(set(at, f64x2.add(get(at), f64x2.multiply(get(left), get(one)))));
    });
  });
  inner.push(
    set(line, i32.add(get(line), get(rowB))),
    set(upper, i32.add(get(upper), i32.constant(8))),
    set(lower, i32.add(get(lower), i32.constant(8))),
  );
  const block = sequence(
    ...sums.map((at) => set(at, v128.zero)),
    set(line, i32.add(get(b), get(column))),
    set(upper, get(a)),
    set(lower, i32.add(get(a), get(rowA))),
    set(end, get(lower)),
    loopWhile(sequence(...inner), i32.lessUnsigned(get(upper), get(end))),
    ...sums.map((at, k) =>
      v128.store(i32.add(i32.add(get(out), get(column)), k < 4 ? i32.constant(0) : get(rowB)), get(at), 16 * (k % 4)),
    ),
    set(column, i32.add(get(column), i32.constant(8 * BLOCK_COLUMNS))),
  );
  const rows = sequence(
    set(column, i32.constant(0)),
    loopWhile(block, i32.lessUnsigned(get(column), get(rowB))),
    set(a, i32.add(get(a), i32.add(get(rowA), get(rowA)))),
    set(out, i32.add(get(out), i32.add(get(rowB), get(rowB)))),
  );
  return {
    name: 'product',
    parameters: ['i32', 'i32', 'i32', 'i32', 'i32', 'i32'],
    result: 'i32',
    locals: [...new Array<'i32'>(5).fill('i32'), ...new Array<'v128'>(13).fill('v128')],
    body: sequence(loopWhile(rows, i32.lessUnsigned(get(a), get(aEnd))), i32.constant(0)),
  };
}

/** The product on WebAssembly SIMD; null where there is none. Sums run in the order of `inner`, as in the scalar one. */
export function createSimdProduct(): MatrixProduct | null {
  const started = startModule(encodeModule([productFunction()], 16));
  if (!started) return null;
  const { memory, functions } = started;
  return (a, b, rows, inner, columns, out) => {
    if (rows * inner * columns === 0) return out;
    const paddedRows = Math.ceil(rows / BLOCK_ROWS) * BLOCK_ROWS;
    const width = Math.ceil(columns / BLOCK_COLUMNS) * BLOCK_COLUMNS;
    const startB = 8 * paddedRows * inner;
    const startOut = startB + 8 * inner * width;
    const missing = startOut + 8 * paddedRows * width - memory.buffer.byteLength;
    if (missing > 0) memory.grow(Math.ceil(missing / PAGE_BYTES));
    const view = new Float64Array(memory.buffer);
    view.set(a.subarray(0, rows * inner));
    view.fill(0, rows * inner, paddedRows * inner);
    for (let k = 0; k < inner; k++) {
      const at = startB / 8 + k * width;
      view.set(b.subarray(k * columns, (k + 1) * columns), at);
      view.fill(0, at + columns, at + width);
    }
    functions.product!(0, startB, startOut, startB, 8 * inner, 8 * width);
    for (let row = 0; row < rows; row++) {
      const from = startOut / 8 + row * width;
      const to = row * columns;
      for (let k = 0; k < columns; k++) out[to + k]! += view[from + k]!;
    }
    return out;
  };
}

/** The product in plain JavaScript. */
export const scalarProduct: MatrixProduct = (a, b, rows, inner, columns, out) => {
  const line = new Float64Array(columns);
  for (let row = 0; row < rows; row++) {
    line.fill(0);
    for (let k = 0; k < inner; k++) {
      const left = a[row * inner + k]!;
      const from = k * columns;
      for (let c = 0; c < columns; c++) line[c]! += left * b[from + c]!;
    }
    for (let c = 0; c < columns; c++) out[row * columns + c]! += line[c]!;
  }
  return out;
};

let shared: MatrixProduct | null = null;

/** The fastest product of this machine; made on first use, one per thread. */
export function matrixProduct(): MatrixProduct {
  shared ??= createSimdProduct() ?? scalarProduct;
  return shared;
}
