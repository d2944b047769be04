import type { PlateOutline } from '../../physics/coil/types.ts';
import { outlinePoints } from './outline-points.ts';

/** A flat mesh whose vertices carry an opacity, 0..1; drawn in the shadow's colour on a plane z = 0 of its own frame. */
export interface ShadowMesh {
  readonly positions: Float32Array;
  readonly opacity: Float32Array;
  readonly indices: Uint32Array;
}

/** Rings across the soft edge. */
const RINGS = 8;

/**
 * The shadow that a plate throws on a surface close below: full inside, falling off smoothly from `reach / 2` inside its
 * outline to `reach / 2` outside. A drawing's shadow: no light source is traced.
 * @param reach width of the soft edge, m.
 */
export function softShadow(outline: PlateOutline, reach: number): ShadowMesh {
  const points = outlinePoints(outline, Math.PI / 20);
  const n = points.length / 2;
  const count = 1 + n * (RINGS + 1);
  const positions = new Float32Array(3 * count);
  const opacity = new Float32Array(count);
  opacity[0] = 1;
  for (let ring = 0; ring <= RINGS; ring++) {
    const t = ring / RINGS;
    const shift = (t - 0.5) * reach;
    for (let i = 0; i < n; i++) {
      const x = points[2 * i]!;
      const y = points[2 * i + 1]!;
      const r = Math.hypot(x, y) || 1;
      const k = 1 + n * ring + i;
      const factor = Math.max(0, (r + shift) / r);
      positions[3 * k] = x * factor;
      positions[3 * k + 1] = y * factor;
      // Smoothstep of the distance: no visible band at either end.
      opacity[k] = 1 - t * t * (3 - 2 * t);
    }
  }
  const indices: number[] = [];
  for (let i = 0; i < n; i++) indices.push(0, 1 + i, 1 + ((i + 1) % n));
  for (let ring = 0; ring < RINGS; ring++)
    for (let i = 0; i < n; i++) {
      const j = (i + 1) % n;
      const a = 1 + n * ring + i;
      const b = 1 + n * (ring + 1) + i;
      const c = 1 + n * (ring + 1) + j;
      const d = 1 + n * ring + j;
      indices.push(a, b, c, a, c, d);
    }
  return { positions, opacity, indices: Uint32Array.from(indices) };
}
