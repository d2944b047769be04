/**
 * A small assembler for WebAssembly modules: functions over one exported memory, with the 128-bit SIMD instructions the
 * kernels need. Code is built from expressions (byte sequences) that nest like the arithmetic they stand for, so the
 * kernels need no tool chain and no binary file.
 *
 * Source: WebAssembly Core Specification 2.0, section 5 (binary format) and the SIMD instruction table in 5.4.9; opcode
 * numbers from memory, each one exercised by tests/numerics/wasm-encoder.test.ts.
 */

/** Encoded instructions. */
export type Code = readonly number[];

const valueType = { i32: 0x7f, f32: 0x7d, f64: 0x7c, v128: 0x7b } as const;
export type ValueType = keyof typeof valueType;

export interface WasmFunction {
  readonly name: string;
  readonly parameters: readonly ValueType[];
  readonly result: ValueType;
  /** Types of the locals that follow the parameters. */
  readonly locals: readonly ValueType[];
  readonly body: Code;
}

/** Unsigned LEB128. */
export function unsigned(value: number): number[] {
  const bytes: number[] = [];
  let rest = value >>> 0;
  do {
    const low = rest & 0x7f;
    rest >>>= 7;
    bytes.push(rest === 0 ? low : low | 0x80);
  } while (rest !== 0);
  return bytes;
}

/** Signed LEB128. */
export function signed(value: number): number[] {
  const bytes: number[] = [];
  let rest = value | 0;
  for (;;) {
    const low = rest & 0x7f;
    rest >>= 7;
    const done = (rest === 0 && (low & 0x40) === 0) || (rest === -1 && (low & 0x40) !== 0);
    bytes.push(done ? low : low | 0x80);
    if (done) return bytes;
  }
}

const scalar =
  (opcode: number) =>
  (a: Code, b: Code): Code => [...a, ...b, opcode];
const convert =
  (opcode: number) =>
  (a: Code): Code => [...a, opcode];
const vector =
  (opcode: number) =>
  (a: Code, b: Code): Code => [...a, ...b, 0xfd, ...unsigned(opcode)];
const vectorUnary =
  (opcode: number) =>
  (a: Code): Code => [...a, 0xfd, ...unsigned(opcode)];
const lane =
  (opcode: number) =>
  (a: Code, index: number): Code => [...a, 0xfd, ...unsigned(opcode), index];
const memoryAccess = (alignment: number, offset: number): number[] => [alignment, ...unsigned(offset)];

export const get = (local: number): Code => [0x20, ...unsigned(local)];
export const set = (local: number, value: Code): Code => [...value, 0x21, ...unsigned(local)];
export const sequence = (...parts: readonly Code[]): Code => parts.flat();
/** Runs `body`, and again as long as `condition` is not zero. */
export const loopWhile = (body: Code, condition: Code): Code => [0x03, 0x40, ...body, ...condition, 0x0d, 0, 0x0b];

export const i32 = {
  constant: (value: number): Code => [0x41, ...signed(value)],
  load: (address: Code, offset = 0): Code => [...address, 0x28, ...memoryAccess(2, offset)],
  add: scalar(0x6a),
  multiply: scalar(0x6c),
  lessUnsigned: scalar(0x49),
  and: scalar(0x71),
} as const;

export const f64 = {
  load: (address: Code, offset = 0): Code => [...address, 0x2b, ...memoryAccess(3, offset)],
  store: (address: Code, value: Code, offset = 0): Code => [...address, ...value, 0x39, ...memoryAccess(3, offset)],
  constant: (value: number): Code => [0x44, ...new Uint8Array(Float64Array.of(value).buffer)],
  add: scalar(0xa0),
  multiply: scalar(0xa2),
  toF32: convert(0xb6),
  fromF32: convert(0xbb),
} as const;

/** Memory access to whole vectors; 4-byte alignment is promised only. */
export const v128 = {
  load: (address: Code, offset = 0): Code => [...address, 0xfd, 0x00, ...memoryAccess(2, offset)],
  /** Both lanes from one f64 in memory. */
  load64Splat: (address: Code, offset = 0): Code => [...address, 0xfd, 0x0a, ...memoryAccess(3, offset)],
  store: (address: Code, value: Code, offset = 0): Code => [
    ...address,
    ...value,
    0xfd,
    0x0b,
    ...memoryAccess(2, offset),
  ],
  zero: [0xfd, 0x0c, ...new Array<number>(16).fill(0)] as Code,
} as const;

export const f32x4 = {
  splat: vectorUnary(0x13),
  extract: lane(0x1f),
  add: vector(0xe4),
  subtract: vector(0xe5),
  multiply: vector(0xe6),
  divide: vector(0xe7),
  squareRoot: vectorUnary(0xe3),
} as const;

export const f64x2 = {
  splat: vectorUnary(0x14),
  extract: lane(0x21),
  add: vector(0xf0),
  subtract: vector(0xf1),
  multiply: vector(0xf2),
  divide: vector(0xf3),
  squareRoot: vectorUnary(0xef),
} as const;

const section = (id: number, content: Code): number[] => [id, ...unsigned(content.length), ...content];
const list = (items: readonly Code[]): number[] => [...unsigned(items.length), ...items.flat()];
const text = (value: string): number[] => {
  const bytes = Array.from(value, (letter) => letter.charCodeAt(0));
  return [...unsigned(bytes.length), ...bytes];
};

/**
 * Bytes of a module that exports `memory` and every function under its name.
 * @param functions ASCII names.
 * @param memoryPages initial size of the memory in pages of 64 KiB; it can grow.
 */
export function encodeModule(functions: readonly WasmFunction[], memoryPages: number): Uint8Array<ArrayBuffer> {
  const types = functions.map((one) => [
    0x60,
    ...list(one.parameters.map((type) => [valueType[type]])),
    ...list([[valueType[one.result]]]),
  ]);
  const bodies = functions.map((one) => {
    const code = [...list(one.locals.map((type) => [1, valueType[type]])), ...one.body, 0x0b];
    return [...unsigned(code.length), ...code];
  });
  const exports = [
    [...text('memory'), 0x02, 0],
    ...functions.map((one, index) => [...text(one.name), 0x00, ...unsigned(index)]),
  ];
  return Uint8Array.from([
    ...[0x00, 0x61, 0x73, 0x6d, 1, 0, 0, 0],
    ...section(1, list(types)),
    ...section(3, list(functions.map((_, index) => unsigned(index)))),
    ...section(5, list([[0x00, ...unsigned(memoryPages)]])),
    ...section(7, list(exports)),
    ...section(10, list(bodies)),
  ]);
}
