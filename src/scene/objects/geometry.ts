import { BufferAttribute, BufferGeometry } from 'three';
import type { FadingSegments } from '../build/ground-grid.ts';
import type { MeshData, SegmentData } from '../build/mesh-data.ts';
import type { ShadowMesh } from '../build/soft-shadow.ts';

type Arrays = Readonly<Record<string, { readonly array: Float32Array; readonly size: number }>>;

/**
 * Puts arrays into a geometry: in place where every length is unchanged, else into a new one, and the old one is
 * disposed. Returns the geometry to use.
 */
function fill(old: BufferGeometry | null, arrays: Arrays, indices: Uint32Array | null): BufferGeometry {
  const names = Object.keys(arrays);
  const same =
    old !== null &&
    names.every((name) => old.getAttribute(name)?.array.length === arrays[name]!.array.length) &&
    (indices === null || old.index?.array.length === indices.length);
  if (same) {
    for (const name of names) {
      const attribute = old.getAttribute(name) as BufferAttribute;
      attribute.array.set(arrays[name]!.array);
      attribute.needsUpdate = true;
    }
    if (indices !== null && old.index !== null) {
      old.index.array.set(indices);
      old.index.needsUpdate = true;
    }
    old.computeBoundingSphere();
    return old;
  }
  old?.dispose();
  const made = new BufferGeometry();
  for (const name of names) made.setAttribute(name, new BufferAttribute(arrays[name]!.array, arrays[name]!.size));
  if (indices !== null) made.setIndex(new BufferAttribute(indices, 1));
  made.computeBoundingSphere();
  return made;
}

export function meshGeometry(old: BufferGeometry | null, mesh: MeshData): BufferGeometry {
  const arrays: Record<string, { array: Float32Array; size: number }> = {
    position: { array: mesh.positions, size: 3 },
    normal: { array: mesh.normals, size: 3 },
  };
  if (mesh.uvs !== null) arrays.uv = { array: mesh.uvs, size: 2 };
  return fill(old, arrays, mesh.indices);
}

export function segmentGeometry(old: BufferGeometry | null, segments: SegmentData): BufferGeometry {
  return fill(old, { position: { array: segments.positions, size: 3 } }, null);
}

/** White with the opacity as fourth component: a material's own colour shows through it. */
function fadingColour(opacity: Float32Array): { array: Float32Array; size: number } {
  const array = new Float32Array(4 * opacity.length).fill(1);
  opacity.forEach((value, i) => {
    array[4 * i + 3] = value;
  });
  return { array, size: 4 };
}

export function shadowGeometry(old: BufferGeometry | null, shadow: ShadowMesh): BufferGeometry {
  const position = { array: shadow.positions, size: 3 };
  return fill(old, { position, color: fadingColour(shadow.opacity) }, shadow.indices);
}

export function fadingGeometry(old: BufferGeometry | null, segments: FadingSegments): BufferGeometry {
  return fill(old, { position: { array: segments.positions, size: 3 }, color: fadingColour(segments.opacity) }, null);
}

/** A mesh of three's starts with an empty geometry; that one holds nothing and is not reused. */
export function filled(geometry: BufferGeometry): BufferGeometry | null {
  return geometry.getAttribute('position') === undefined ? null : geometry;
}
