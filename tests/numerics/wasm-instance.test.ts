import { afterEach, describe, expect, it, vi } from 'vitest';
import { createSimdProduct } from '../../src/numerics/matrix-product.ts';
import { encodeModule, f64 } from '../../src/numerics/wasm-encoder.ts';
import { startModule } from '../../src/numerics/wasm-instance.ts';
import { createSimdEngine } from '../../src/physics/coil/kernel/neumann-engine.ts';
import { createSimdStencil } from '../../src/physics/coil/kernel/stencil-engine.ts';

afterEach(() => {
  vi.unstubAllGlobals();
});

describe('starting modules', () => {
  const bytes = encodeModule(
    [{ name: 'half', parameters: ['f64'], result: 'f64', locals: [], body: [0x20, 0, ...f64.constant(0.5), 0xa2] }],
    1,
  );

  it('runs functions and grows the memory', () => {
    const started = startModule(bytes)!;
    expect(started.functions.half!(9)).toBe(4.5);
    expect(started.memory.buffer.byteLength).toBe(65536);
    started.memory.grow(2);
    expect(started.memory.buffer.byteLength).toBe(3 * 65536);
  });

  it('returns null without WebAssembly, or where it does not know the instructions', () => {
    expect(startModule(bytes.slice(0, 20))).toBeNull();
    vi.stubGlobal('WebAssembly', undefined);
    expect(startModule(bytes)).toBeNull();
    expect(createSimdEngine()).toBeNull();
    expect(createSimdProduct()).toBeNull();
    expect(createSimdStencil({ values: new Float64Array(72), columns: 6, depth: 2 })).toBeNull();
  });
});
