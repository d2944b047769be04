import type { PlateOutline } from '../../physics/coil/types.ts';
import { type MeshData, MeshWriter, type SegmentData } from './mesh-data.ts';
import { outlinePoints, type Wedge, withoutWedge } from './outline-points.ts';

export interface PlateMesh {
  /** Top, bottom and rim. Texture coordinates: x y on the faces, length and height on the rim, metres. */
  readonly body: MeshData;
  /** The two faces of the cut, or null where nothing is cut. Texture coordinates: distance from the axis, height. */
  readonly section: MeshData | null;
  /** Edges to be drawn as lines: both outlines, and the uprights of the cut. */
  readonly edges: SegmentData;
}

/** Distance between neighbouring rim normals above which the edge between them is sharp, as a cosine. */
const SHARP = Math.cos(Math.PI / 6);

/**
 * A flat plate from `z0` up to `z1`, centred on the axis, optionally with a wedge cut out of it down to the axis.
 * @param wedge less than a full turn; null: whole.
 */
export function plateMesh(outline: PlateOutline, z0: number, z1: number, wedge: Wedge | null = null): PlateMesh {
  const whole = outlinePoints(outline);
  const rim = wedge === null ? whole : withoutWedge(whole, wedge);
  const closed = wedge === null;
  const body = new MeshWriter();
  faces(rim, closed, z0, z1, body);
  sides(rim, closed, z0, z1, body);
  return {
    body: body.finish(),
    section: closed ? null : section(rim, z0, z1),
    edges: edges(rim, closed, z0, z1),
  };
}

/** Top and bottom as fans about the axis: every outline here is star-shaped about it. */
function faces(rim: Float64Array, closed: boolean, z0: number, z1: number, out: MeshWriter): void {
  const n = rim.length / 2;
  for (const [z, nz] of [
    [z0, -1],
    [z1, 1],
  ] as const) {
    const centre = out.vertex(0, 0, z, 0, 0, nz, 0, 0);
    for (let i = 0; i < n; i++) out.vertex(rim[2 * i]!, rim[2 * i + 1]!, z, 0, 0, nz, rim[2 * i]!, rim[2 * i + 1]!);
    for (let i = 0; i < (closed ? n : n - 1); i++) {
      const a = centre + 1 + i;
      const b = centre + 1 + ((i + 1) % n);
      if (nz > 0) out.triangle(centre, a, b);
      else out.triangle(centre, b, a);
    }
  }
}

function sides(rim: Float64Array, closed: boolean, z0: number, z1: number, out: MeshWriter): void {
  const n = rim.length / 2;
  const segments = closed ? n : n - 1;
  const normal = (i: number): readonly [number, number] => {
    const a = ((i % segments) + segments) % segments;
    const b = (a + 1) % n;
    const dx = rim[2 * b]! - rim[2 * a]!;
    const dy = rim[2 * b + 1]! - rim[2 * a + 1]!;
    const l = Math.hypot(dx, dy) || 1;
    return [dy / l, -dx / l];
  };
  const smooth = (own: readonly [number, number], other: readonly [number, number]): readonly [number, number] => {
    if (own[0] * other[0] + own[1] * other[1] < SHARP) return own;
    const x = own[0] + other[0];
    const y = own[1] + other[1];
    const l = Math.hypot(x, y);
    return [x / l, y / l];
  };
  let along = 0;
  for (let i = 0; i < segments; i++) {
    const j = (i + 1) % n;
    const own = normal(i);
    const [ax, ay] = i > 0 || closed ? smooth(own, normal(i - 1)) : own;
    const [bx, by] = i < segments - 1 || closed ? smooth(own, normal(i + 1)) : own;
    const step = Math.hypot(rim[2 * j]! - rim[2 * i]!, rim[2 * j + 1]! - rim[2 * i + 1]!);
    const a = out.vertex(rim[2 * i]!, rim[2 * i + 1]!, z0, ax, ay, 0, along, z0);
    const b = out.vertex(rim[2 * j]!, rim[2 * j + 1]!, z0, bx, by, 0, along + step, z0);
    const c = out.vertex(rim[2 * j]!, rim[2 * j + 1]!, z1, bx, by, 0, along + step, z1);
    const d = out.vertex(rim[2 * i]!, rim[2 * i + 1]!, z1, ax, ay, 0, along, z1);
    out.quad(a, b, c, d);
    along += step;
  }
}

/** The faces of the cut, from the axis to the rim, looking into the wedge. */
function section(rim: Float64Array, z0: number, z1: number): MeshData {
  const out = new MeshWriter();
  const n = rim.length / 2;
  for (const [i, sign] of [
    [0, -1],
    [n - 1, 1],
  ] as const) {
    const x = rim[2 * i]!;
    const y = rim[2 * i + 1]!;
    const l = Math.hypot(x, y) || 1;
    const nx = (-y / l) * sign;
    const ny = (x / l) * sign;
    const a = out.vertex(0, 0, z0, nx, ny, 0, 0, z0);
    const b = out.vertex(x, y, z0, nx, ny, 0, l, z0);
    const c = out.vertex(x, y, z1, nx, ny, 0, l, z1);
    const d = out.vertex(0, 0, z1, nx, ny, 0, 0, z1);
    if (sign < 0) out.quad(a, b, c, d);
    else out.quad(a, d, c, b);
  }
  return out.finish();
}

function edges(rim: Float64Array, closed: boolean, z0: number, z1: number): SegmentData {
  const n = rim.length / 2;
  const out: number[] = [];
  const segments = closed ? n : n - 1;
  for (const z of [z0, z1])
    for (let i = 0; i < segments; i++) {
      const j = (i + 1) % n;
      out.push(rim[2 * i]!, rim[2 * i + 1]!, z, rim[2 * j]!, rim[2 * j + 1]!, z);
    }
  if (!closed) {
    for (const i of [0, n - 1]) {
      const x = rim[2 * i]!;
      const y = rim[2 * i + 1]!;
      for (const z of [z0, z1]) out.push(0, 0, z, x, y, z);
      out.push(x, y, z0, x, y, z1);
    }
    out.push(0, 0, z0, 0, 0, z1);
  }
  // Uprights at sharp corners of the outline.
  for (let i = 0; i < n; i++) {
    if (!closed && (i === 0 || i === n - 1)) continue;
    const h = (i + n - 1) % n;
    const j = (i + 1) % n;
    const ax = rim[2 * i]! - rim[2 * h]!;
    const ay = rim[2 * i + 1]! - rim[2 * h + 1]!;
    const bx = rim[2 * j]! - rim[2 * i]!;
    const by = rim[2 * j + 1]! - rim[2 * i + 1]!;
    const cosine = (ax * bx + ay * by) / (Math.hypot(ax, ay) * Math.hypot(bx, by) || 1);
    if (cosine < SHARP) out.push(rim[2 * i]!, rim[2 * i + 1]!, z0, rim[2 * i]!, rim[2 * i + 1]!, z1);
  }
  return { positions: Float32Array.from(out) };
}
