/** The part of the WebAssembly interface used here: the pure layers compile without the DOM library. */
interface WebAssemblyGlobal {
  readonly Module: new (bytes: Uint8Array<ArrayBuffer>) => object;
  readonly Instance: new (module: object) => { readonly exports: Readonly<Record<string, unknown>> };
  readonly validate: (bytes: Uint8Array<ArrayBuffer>) => boolean;
}

export interface WasmMemory {
  readonly buffer: ArrayBuffer;
  grow(pages: number): number;
}

export interface WasmExports {
  readonly memory: WasmMemory;
  readonly functions: Readonly<Record<string, (...numbers: number[]) => number>>;
}

/**
 * Compiles and starts a module at once (the modules here are under 4 kB, which every browser allows on the page's own
 * thread); null where the machine has no WebAssembly or lacks its SIMD instructions.
 */
export function startModule(bytes: Uint8Array<ArrayBuffer>): WasmExports | null {
  const api = (globalThis as unknown as { readonly WebAssembly?: WebAssemblyGlobal }).WebAssembly;
  if (!api?.validate(bytes)) return null;
  const { exports } = new api.Instance(new api.Module(bytes));
  return {
    memory: exports.memory as WasmMemory,
    functions: exports as unknown as WasmExports['functions'],
  };
}
