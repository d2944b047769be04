import {
  type Code,
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
} from './wasm-encoder.ts';
import { startModule, type WasmExports } from './wasm-instance.ts';

/** A matrix that is being reduced: column after column, each `stride` long, zeros below the last row. */
export interface ReflectionRoom {
  readonly values: Float64Array;
  /** Rows, rounded up so that a vector may reach beyond the last one. */
  readonly stride: number;
  /**
   * Applies I + factor v v^T to columns.
   *
   * @param v index of the first element of v in `values`; v runs to the end of its column
   * @param first index of the same row in the first column that is changed; the others follow
   * @param length elements of v; what lies beyond in its column must be zero
   */
  reflect(v: number, first: number, columns: number, length: number, factor: number): void;
}

/** Elements added at once: two vectors of two. */
const STEP = 4;
const PAGE_BYTES = 65536;

/** Room for a matrix of `rows` by `columns`, all zero. The SIMD form keeps one memory: a new room ends the last one. */
export function reflectionRoom(rows: number, columns: number): ReflectionRoom {
  shared ??= createSimdRoom() ?? createScalarRoom;
  return shared(rows, columns);
}

type RoomMaker = (rows: number, columns: number) => ReflectionRoom;
let shared: RoomMaker | null = null;

const strideOf = (rows: number): number => Math.ceil(rows / STEP) * STEP + STEP;

/** In plain JavaScript; sums in the order of the vectors' lanes, so that both forms give the same bits. */
export const createScalarRoom: RoomMaker = (rows, columns) => {
  const stride = strideOf(rows);
  const values = new Float64Array(stride * columns);
  return {
    values,
    stride,
    reflect(v, first, count, length, factor) {
      for (let c = 0, at = first; c < count; c++, at += stride) {
        let s0 = 0;
        let s1 = 0;
        let s2 = 0;
        let s3 = 0;
        for (let i = 0; i < length; i += STEP) {
          s0 += values[v + i]! * values[at + i]!;
          s1 += values[v + i + 1]! * values[at + i + 1]!;
          s2 += values[v + i + 2]! * values[at + i + 2]!;
          s3 += values[v + i + 3]! * values[at + i + 3]!;
        }
        const s = factor * (s0 + s2 + (s1 + s3));
        for (let i = 0; i < length; i++) values[at + i] = values[at + i]! + s * values[v + i]!;
      }
    },
  };
};

/** reflect(v, first, end, strideBytes, vEnd, factor): addresses in bytes. */
function reflectFunction(): WasmFunction {
  const [v, column, end, stride, vEnd, factor] = [0, 1, 2, 3, 4, 5];
  const [p, q, low, high, scale] = [6, 7, 8, 9, 10];
  const product = (offset: number): Code => f64x2.multiply(v128.load(get(p), offset), v128.load(get(q), offset));
  const advance = sequence(
    set(p, i32.add(get(p), i32.constant(8 * STEP))),
    set(q, i32.add(get(q), i32.constant(8 * STEP))),
  );
  const rewind = sequence(set(p, get(v)), set(q, get(column)));
  const dot = sequence(
    set(low, f64x2.add(get(low), product(0))),
    set(high, f64x2.add(get(high), product(16))),
    advance,
  );
  const update = (offset: number): Code =>
    v128.store(
      get(q),
      f64x2.add(v128.load(get(q), offset), f64x2.multiply(get(scale), v128.load(get(p), offset))),
      offset,
    );
  const more = i32.lessUnsigned(get(p), get(vEnd));
  const one = sequence(
    rewind,
    set(low, v128.zero),
    set(high, v128.zero),
    loopWhile(dot, more),
    set(low, f64x2.add(get(low), get(high))),
    set(scale, f64x2.splat(f64.multiply(get(factor), f64.add(f64x2.extract(get(low), 0), f64x2.extract(get(low), 1))))),
    rewind,
    loopWhile(sequence(update(0), update(16), advance), more),
    set(column, i32.add(get(column), get(stride))),
  );
  return {
    name: 'reflect',
    parameters: ['i32', 'i32', 'i32', 'i32', 'i32', 'f64'],
    result: 'i32',
    locals: ['i32', 'i32', 'v128', 'v128', 'v128'],
    body: sequence(loopWhile(one, i32.lessUnsigned(get(column), get(end))), i32.constant(0)),
  };
}

/** On WebAssembly SIMD; null where the machine has none. */
export function createSimdRoom(): RoomMaker | null {
  const started: WasmExports | null = startModule(encodeModule([reflectFunction()], 1));
  if (!started) return null;
  const { memory, functions } = started;
  return (rows, columns) => {
    const stride = strideOf(rows);
    const missing = 8 * stride * columns - memory.buffer.byteLength;
    if (missing > 0) memory.grow(Math.ceil(missing / PAGE_BYTES));
    const values = new Float64Array(memory.buffer, 0, stride * columns).fill(0);
    return {
      values,
      stride,
      reflect(v, first, count, length, factor) {
        if (count <= 0 || length <= 0) return;
        const bytes = 8 * stride;
        functions.reflect!(8 * v, 8 * first, 8 * first + count * bytes, bytes, 8 * (v + length), factor);
      },
    };
  };
}
