import { type BufferGeometry, Group, Mesh } from 'three';
import type { Winding } from '../../physics/coil/types.ts';
import { turnOfTriangle, windingMesh } from '../build/winding-mesh.ts';
import type { Side } from '../types.ts';
import { meshGeometry } from './geometry.ts';
import type { Materials } from './materials.ts';

/** A winding turn by turn. Rebuilt only when another winding comes. */
export class WindingObject extends Group {
  readonly #side: Side;
  readonly #materials: Materials;
  #winding: Winding | null = null;
  #geometry: BufferGeometry | null = null;
  #starts: Uint32Array = new Uint32Array(0);
  readonly #meshes: Mesh[] = [];

  constructor(side: Side, materials: Materials) {
    super();
    this.#side = side;
    this.#materials = materials;
  }

  /** @param copies centres (x, y, z) of further coils of the same make, m. */
  update(
    winding: Winding,
    copies: readonly { readonly x: number; readonly y: number; readonly z: number }[] = [],
  ): void {
    if (winding !== this.#winding) {
      const built = windingMesh(winding);
      this.#geometry = meshGeometry(this.#geometry, built.mesh);
      this.#starts = built.turnStarts;
      this.#winding = winding;
    }
    const set = winding.spec.conductor.kind === 'litz' ? this.#materials.litz : this.#materials.winding;
    while (this.#meshes.length > copies.length + 1) this.remove(this.#meshes.pop()!);
    while (this.#meshes.length < copies.length + 1) {
      const mesh = new Mesh();
      this.#meshes.push(mesh);
      this.add(mesh);
    }
    this.#meshes.forEach((mesh, i) => {
      mesh.geometry = this.#geometry!;
      mesh.material = set[this.#side];
      const at = i === 0 ? { x: 0, y: 0, z: 0 } : copies[i - 1]!;
      mesh.position.set(at.x, at.y, at.z);
      mesh.userData.pick = (triangle: number) => ({
        kind: 'winding',
        side: this.#side,
        turn: turnOfTriangle(this.#starts, triangle),
      });
    });
  }

  override dispose(): void {
    super.dispose();
    this.#geometry?.dispose();
    this.#geometry = null;
    this.#winding = null;
    this.clear();
    this.#meshes.length = 0;
  }
}
