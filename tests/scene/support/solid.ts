import type { MeshData } from '../../../src/scene/build/mesh-data.ts';

const corner = (mesh: MeshData, k: number): readonly [number, number, number] => {
  const i = 3 * mesh.indices[k]!;
  return [mesh.positions[i]!, mesh.positions[i + 1]!, mesh.positions[i + 2]!];
};

/** Volume by the divergence theorem: positive only where every face looks outwards. */
export function volume(...meshes: readonly MeshData[]): number {
  let sum = 0;
  for (const mesh of meshes)
    for (let t = 0; t < mesh.indices.length; t += 3) {
      const a = corner(mesh, t);
      const b = corner(mesh, t + 1);
      const c = corner(mesh, t + 2);
      sum +=
        a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
    }
  return sum / 6;
}

/**
 * Number of triangle sides without a partner running the other way; 0 for a closed, consistently oriented surface.
 * Corners are told apart by their place to 1 nm.
 */
export function openSides(...meshes: readonly MeshData[]): number {
  const sides = new Map<string, number>();
  const name = (p: readonly number[]): string => p.map((v) => Math.round(v * 1e9)).join(',');
  for (const mesh of meshes)
    for (let t = 0; t < mesh.indices.length; t += 3) {
      const names = [0, 1, 2].map((k) => name(corner(mesh, t + k)));
      if (new Set(names).size < 3) continue;
      for (let k = 0; k < 3; k++) {
        const there = `${names[k]}>${names[(k + 1) % 3]}`;
        const back = `${names[(k + 1) % 3]}>${names[k]}`;
        if ((sides.get(back) ?? 0) > 0) sides.set(back, sides.get(back)! - 1);
        else sides.set(there, (sides.get(there) ?? 0) + 1);
      }
    }
  return [...sides.values()].reduce((a, b) => a + b, 0);
}

/** Least cosine between a vertex normal and the normal of a face that uses it; and the largest error of its length. */
export function normalCheck(mesh: MeshData): { readonly leastCosine: number; readonly lengthError: number } {
  let leastCosine = 1;
  let lengthError = 0;
  for (let t = 0; t < mesh.indices.length; t += 3) {
    const [a, b, c] = [corner(mesh, t), corner(mesh, t + 1), corner(mesh, t + 2)];
    const u = [b[0] - a[0], b[1] - a[1], b[2] - a[2]] as const;
    const v = [c[0] - a[0], c[1] - a[1], c[2] - a[2]] as const;
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]] as const;
    const l = Math.hypot(...n);
    if (l < 1e-16) continue;
    for (let k = 0; k < 3; k++) {
      const i = 3 * mesh.indices[t + k]!;
      const w = [mesh.normals[i]!, mesh.normals[i + 1]!, mesh.normals[i + 2]!] as const;
      leastCosine = Math.min(leastCosine, (w[0] * n[0] + w[1] * n[1] + w[2] * n[2]) / l);
      lengthError = Math.max(lengthError, Math.abs(Math.hypot(...w) - 1));
    }
  }
  return { leastCosine, lengthError };
}
