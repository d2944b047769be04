/** A triangle mesh without a renderer. Metres, right-handed, counter-clockwise seen from outside. */
export interface MeshData {
  /** [n, 3] row-major x y z. */
  readonly positions: Float32Array;
  /** [n, 3], unit length, outwards. */
  readonly normals: Float32Array;
  /** [n, 2]; metres along the surface unless the builder says otherwise. Null: none. */
  readonly uvs: Float32Array | null;
  /** Three per triangle. */
  readonly indices: Uint32Array;
}

/** Line segments, two points each: [2 n, 3] row-major, metres. */
export interface SegmentData {
  readonly positions: Float32Array;
}

/** Collects vertices and triangles; `finish()` casts to the sizes a graphics card takes. */
export class MeshWriter {
  readonly #positions: number[] = [];
  readonly #normals: number[] = [];
  readonly #uvs: number[] = [];
  readonly #indices: number[] = [];

  /** Adds a vertex and returns its index. */
  vertex(x: number, y: number, z: number, nx: number, ny: number, nz: number, u = 0, v = 0): number {
    this.#positions.push(x, y, z);
    this.#normals.push(nx, ny, nz);
    this.#uvs.push(u, v);
    return this.#positions.length / 3 - 1;
  }

  triangle(a: number, b: number, c: number): void {
    this.#indices.push(a, b, c);
  }

  /** Two triangles a b c and a c d, counter-clockwise. */
  quad(a: number, b: number, c: number, d: number): void {
    this.#indices.push(a, b, c, a, c, d);
  }

  get triangleCount(): number {
    return this.#indices.length / 3;
  }

  finish(): MeshData {
    return {
      positions: Float32Array.from(this.#positions),
      normals: Float32Array.from(this.#normals),
      uvs: Float32Array.from(this.#uvs),
      indices: Uint32Array.from(this.#indices),
    };
  }
}
