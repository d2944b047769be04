import { add, cross, dot, scale, subtract, unit, type Vec3 } from '../vectors.ts';
import { type MeshData, MeshWriter } from './mesh-data.ts';

/**
 * Field lines as thin three-sided tubes, so that they keep their width on every screen and pass behind what hides them.
 * Frames are carried along each strip without twisting (parallel transport).
 * @param strips [n, 3] row-major x y z each, metres; strips of fewer than two points are left out.
 * @param radius of the tube, m.
 */
export function stripMesh(strips: readonly Float64Array[], radius: number): MeshData {
  const out = new MeshWriter();
  for (const strip of strips) addStrip(strip, radius, out);
  return out.finish();
}

const pointOf = (strip: Float64Array, i: number): Vec3 => [strip[3 * i]!, strip[3 * i + 1]!, strip[3 * i + 2]!];

function addStrip(strip: Float64Array, radius: number, out: MeshWriter): void {
  const n = strip.length / 3;
  if (n < 2) return;
  let u: Vec3 = [0, 0, 0];
  let previous = -1;
  for (let i = 0; i < n; i++) {
    const t = unit(subtract(pointOf(strip, Math.min(n - 1, i + 1)), pointOf(strip, Math.max(0, i - 1))));
    // Any direction across the first tangent; from then on the last one, made square again.
    if (i === 0) u = Math.abs(t[2]) < 0.9 ? [-t[1], t[0], 0] : [1, 0, 0];
    u = unit(subtract(u, scale(t, dot(u, t))));
    const v = cross(t, u);
    const p = pointOf(strip, i);
    let first = -1;
    for (let k = 0; k < 3; k++) {
      const c = Math.cos((2 * Math.PI * k) / 3);
      const s = Math.sin((2 * Math.PI * k) / 3);
      const normal = add(scale(u, c), scale(v, s));
      const q = add(p, scale(normal, radius));
      const index = out.vertex(...q, ...normal, k / 3, i / (n - 1));
      if (k === 0) first = index;
    }
    if (previous >= 0)
      for (let k = 0; k < 3; k++) out.quad(previous + k, previous + ((k + 1) % 3), first + ((k + 1) % 3), first + k);
    previous = first;
  }
}
