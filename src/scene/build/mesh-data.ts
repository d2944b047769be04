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

/** An array that grows by doubling. */
function grown<T extends Float32Array | Uint32Array>(array: T, needed: number, make: (length: number) => T): T {
  if (needed <= array.length) return array;
  const larger = make(Math.max(needed, 2 * array.length));
  larger.set(array);
  return larger;
}
const floats = (length: number): Float32Array => new Float32Array(length);
const whole = (length: number): Uint32Array => new Uint32Array(length);

/** Collects vertices and triangles in single precision, as a graphics card takes them. */
export class MeshWriter {
  #positions = floats(3 * 1024);
  #normals = floats(3 * 1024);
  #uvs = floats(2 * 1024);
  #indices = whole(6 * 1024);
  #vertices = 0;
  #corners = 0;

  /** Adds a vertex and returns its index. */
  vertex(x: number, y: number, z: number, nx: number, ny: number, nz: number, u = 0, v = 0): number {
    const i = this.#vertices++;
    if (3 * this.#vertices > this.#positions.length) {
      this.#positions = grown(this.#positions, 3 * this.#vertices, floats);
      this.#normals = grown(this.#normals, 3 * this.#vertices, floats);
      this.#uvs = grown(this.#uvs, 2 * this.#vertices, floats);
    }
    this.#positions[3 * i] = x;
    this.#positions[3 * i + 1] = y;
    this.#positions[3 * i + 2] = z;
    this.#normals[3 * i] = nx;
    this.#normals[3 * i + 1] = ny;
    this.#normals[3 * i + 2] = nz;
    this.#uvs[2 * i] = u;
    this.#uvs[2 * i + 1] = v;
    return i;
  }

  triangle(a: number, b: number, c: number): void {
    const i = this.#corners;
    this.#corners += 3;
    this.#indices = grown(this.#indices, this.#corners, whole);
    this.#indices[i] = a;
    this.#indices[i + 1] = b;
    this.#indices[i + 2] = c;
  }

  /** Two triangles a b c and a c d, counter-clockwise. */
  quad(a: number, b: number, c: number, d: number): void {
    this.triangle(a, b, c);
    this.triangle(a, c, d);
  }

  get triangleCount(): number {
    return this.#corners / 3;
  }

  finish(): MeshData {
    return {
      positions: this.#positions.slice(0, 3 * this.#vertices),
      normals: this.#normals.slice(0, 3 * this.#vertices),
      uvs: this.#uvs.slice(0, 2 * this.#vertices),
      indices: this.#indices.slice(0, this.#corners),
    };
  }
}
