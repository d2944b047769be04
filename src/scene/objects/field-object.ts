import { Group, Mesh } from 'three';
import { stripMesh } from '../build/strip-mesh.ts';
import { filled, meshGeometry } from './geometry.ts';
import type { Materials } from './materials.ts';

/** Radius of a drawn field line, m. */
const RADIUS = 0.00011;

/** Field lines; absent until asked for. */
export class FieldObject extends Group {
  readonly #mesh = new Mesh();
  #strips: readonly Float64Array[] | null = null;

  constructor(materials: Materials) {
    super();
    this.#mesh.material = materials.field;
    this.#mesh.raycast = () => undefined;
    this.add(this.#mesh);
  }

  update(strips: readonly Float64Array[] | null): void {
    this.visible = strips !== null && strips.length > 0;
    if (strips === this.#strips) return;
    this.#strips = strips;
    if (strips !== null && strips.length > 0)
      this.#mesh.geometry = meshGeometry(filled(this.#mesh.geometry), stripMesh(strips, RADIUS));
  }

  override dispose(): void {
    super.dispose();
    this.#mesh.geometry.dispose();
    this.#strips = null;
  }
}
