import { describe, expect, it } from 'vitest';
import { layout, rows } from '../../../../src/physics/coil/kernel/neumann-code.ts';
import { neumannModule } from '../../../../src/physics/coil/kernel/neumann-engine.ts';

describe('the kernels as code', () => {
  it('stay under the 4 kB that every browser compiles on the page thread', () => {
    expect(neumannModule().length).toBeLessThan(4096);
    expect(WebAssembly.validate(neumannModule())).toBe(true);
  });

  it('fit their memory, rows apart and aligned', () => {
    const { sourceCapacity, targetCapacity, sourceRowBytes, targetRowBytes, targetStart, memoryPages } = layout;
    expect(sourceCapacity % 4).toBe(0);
    expect(targetCapacity % 2).toBe(0);
    expect(sourceRowBytes).toBeGreaterThanOrEqual(8 * sourceCapacity);
    expect(targetRowBytes).toBeGreaterThanOrEqual(8 * targetCapacity);
    expect(sourceRowBytes % 16).toBe(0);
    expect(targetRowBytes % 16).toBe(0);
    expect(targetStart).toBeGreaterThanOrEqual(rows.spatial.source.length * sourceRowBytes);
    expect(targetStart + rows.spatial.target.length * targetRowBytes).toBeLessThanOrEqual(65536 * memoryPages);
  });
});
