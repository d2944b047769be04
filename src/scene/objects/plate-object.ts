import { Group, LineSegments, type Material, Mesh } from 'three';
import type { PlateOutline } from '../../physics/coil/types.ts';
import type { Wedge } from '../build/outline-points.ts';
import { plateMesh } from '../build/plate-mesh.ts';
import type { PickId } from '../types.ts';
import { filled, meshGeometry, segmentGeometry } from './geometry.ts';

export interface PlateLook {
  readonly body: Material;
  readonly cut: Material;
  readonly edge: Material;
}

/** A plate or layer, whole or cut open, with its edges drawn. */
export class PlateObject extends Group {
  readonly #body = new Mesh();
  readonly #section = new Mesh();
  readonly #edges = new LineSegments();
  #key = '';

  constructor() {
    super();
    this.#edges.raycast = () => undefined;
    this.add(this.#body, this.#section, this.#edges);
  }

  update(
    outline: PlateOutline,
    z0: number,
    z1: number,
    wedge: Wedge | null,
    look: PlateLook,
    pick: PickId,
    order: number,
  ): void {
    this.#body.material = look.body;
    this.#section.material = look.cut;
    this.#edges.material = look.edge;
    this.#body.userData.pick = () => pick;
    this.#section.userData.pick = () => pick;
    this.#body.renderOrder = order;
    this.#edges.renderOrder = order + 0.5;
    const key = JSON.stringify([outline, z0, z1, wedge]);
    if (key === this.#key) return;
    this.#key = key;
    const built = plateMesh(outline, z0, z1, wedge);
    this.#body.geometry = meshGeometry(filled(this.#body.geometry), built.body);
    this.#section.visible = built.section !== null;
    if (built.section !== null) this.#section.geometry = meshGeometry(filled(this.#section.geometry), built.section);
    this.#edges.geometry = segmentGeometry(filled(this.#edges.geometry), built.edges);
  }

  override dispose(): void {
    super.dispose();
    this.#body.geometry.dispose();
    this.#section.geometry.dispose();
    this.#edges.geometry.dispose();
    this.#key = '';
  }
}
