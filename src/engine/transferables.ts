/** The buffers of all typed arrays in a result, each once, so that they move to the other thread instead of being copied. */
export function transferables(value: unknown, found: Set<ArrayBuffer> = new Set()): ArrayBuffer[] {
  collect(value, found);
  return [...found];
}

function collect(value: unknown, found: Set<ArrayBuffer>): void {
  if (typeof value !== 'object' || value === null) return;
  if (ArrayBuffer.isView(value)) {
    // A view into WebAssembly memory or a part of a larger array stays and is copied.
    if (value.buffer instanceof ArrayBuffer && value.byteLength === value.buffer.byteLength) found.add(value.buffer);
    return;
  }
  for (const part of Object.values(value)) collect(part, found);
}
