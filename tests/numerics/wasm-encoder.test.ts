import { describe, expect, it } from 'vitest';
import {
  type Code,
  encodeModule,
  f32x4,
  f64,
  f64x2,
  get,
  i32,
  loopWhile,
  sequence,
  set,
  signed,
  unsigned,
  v128,
  type WasmFunction,
} from '../../src/numerics/wasm-encoder.ts';
import { startModule } from '../../src/numerics/wasm-instance.ts';

/** Runs an expression of the parameters a, b and of what lies in memory. */
function evaluate(body: Code, a = 0, b = 0, memory?: (view: Float64Array) => void): number {
  const one: WasmFunction = { name: 'run', parameters: ['f64', 'f64'], result: 'f64', locals: ['i32', 'v128'], body };
  const started = startModule(encodeModule([one], 1))!;
  memory?.(new Float64Array(started.memory.buffer));
  return started.functions.run!(a, b);
}
const A = get(0);
const B = get(1);

describe('numbers', () => {
  // Examples of the DWARF debugging standard, version 3, figures 22 and 23 (from memory), which WebAssembly refers to.
  it('encodes LEB128', () => {
    expect([2, 127, 128, 129, 130, 12857].map(unsigned)).toEqual([
      [2],
      [0x7f],
      [0x80, 1],
      [0x81, 1],
      [0x82, 1],
      [0xb9, 0x64],
    ]);
    expect([2, -2, 127, -127, 128, -128, 129, -129].map(signed)).toEqual([
      [2],
      [0x7e],
      [0xff, 0],
      [0x81, 0x7f],
      [0x80, 1],
      [0x80, 0x7f],
      [0x81, 1],
      [0xff, 0x7e],
    ]);
    expect(unsigned(0xffffffff)).toEqual([0xff, 0xff, 0xff, 0xff, 0x0f]);
  });
});

describe('instructions', () => {
  it('does double-precision arithmetic', () => {
    expect(evaluate(f64.add(A, B), 2, 0.5)).toBe(2.5);
    expect(evaluate(f64.multiply(A, B), 3, -0.5)).toBe(-1.5);
    expect(evaluate(f64.constant(Math.PI))).toBe(Math.PI);
    expect(evaluate(f64.fromF32(f64.toF32(A)), Math.PI)).toBe(Math.fround(Math.PI));
  });

  it('loads and stores', () => {
    expect(evaluate(f64.load(i32.constant(8), 16), 0, 0, (view) => view.set([1, 2, 3, 4]))).toBe(4);
    expect(evaluate(sequence(f64.store(i32.constant(24), A), f64.load(i32.constant(24))), 7.25)).toBe(7.25);
    const copied = sequence(v128.store(i32.constant(32), v128.load(i32.constant(0), 8)), f64.load(i32.constant(0), 40));
    expect(evaluate(copied, 0, 0, (view) => view.set([1, 2, 3]))).toBe(3);
    expect(evaluate(f64x2.extract(v128.load64Splat(i32.constant(8)), 1), 0, 0, (view) => view.set([1, 5]))).toBe(5);
    const pointer = (view: Float64Array) => {
      view[3] = 9;
      new Int32Array(view.buffer)[0] = 24;
    };
    expect(evaluate(f64.load(i32.load(i32.constant(0))), 0, 0, pointer)).toBe(9);
  });

  it('does the same in every lane', () => {
    const two = (f: (a: Code, b: Code) => Code, lane: number) => f64x2.extract(f(f64x2.splat(A), f64x2.splat(B)), lane);
    const four = (f: (a: Code, b: Code) => Code, lane: number) =>
      f64.fromF32(f32x4.extract(f(f32x4.splat(f64.toF32(A)), f32x4.splat(f64.toF32(B))), lane));
    for (const [name, expected] of [
      ['add', 9.25],
      ['subtract', 8.75],
      ['multiply', 2.25],
      ['divide', 36],
    ] as const) {
      for (const lane of [0, 1]) expect(evaluate(two(f64x2[name], lane), 9, 0.25)).toBe(expected);
      for (const lane of [0, 1, 2, 3]) expect(evaluate(four(f32x4[name], lane), 9, 0.25)).toBe(expected);
    }
    expect(evaluate(f64x2.extract(f64x2.squareRoot(f64x2.splat(A)), 1), 2)).toBe(Math.SQRT2);
    expect(evaluate(f64.fromF32(f32x4.extract(f32x4.squareRoot(f32x4.splat(f64.toF32(A))), 3)), 2)).toBe(
      Math.fround(Math.SQRT2),
    );
    expect(evaluate(f64x2.extract(v128.zero, 1))).toBe(0);
  });

  it('loops while a condition holds, on unsigned addresses', () => {
    // Sums ten numbers from memory through local 2, an address.
    const body = sequence(
      loopWhile(
        sequence(
          f64.store(i32.constant(800), f64.add(f64.load(i32.constant(800)), f64.load(get(2)))),
          set(2, i32.add(get(2), i32.multiply(i32.constant(4), i32.constant(2)))),
        ),
        i32.lessUnsigned(get(2), i32.constant(80)),
      ),
      f64.load(i32.constant(800)),
    );
    expect(evaluate(body, 0, 0, (view) => view.set([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]))).toBe(55);
    expect(evaluate(sequence(set(3, f64x2.splat(A)), f64x2.extract(get(3), 0)), 6)).toBe(6);
  });
});
