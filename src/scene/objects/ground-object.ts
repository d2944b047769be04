import { Group, LineSegments, Mesh } from 'three';
import type { PlateOutline } from '../../physics/coil/types.ts';
import { groundGrid } from '../build/ground-grid.ts';
import { softShadow } from '../build/soft-shadow.ts';
import { fadingGeometry, filled, shadowGeometry } from './geometry.ts';
import type { Materials } from './materials.ts';

/** The table: a fading grid of 10 mm and the soft shadow of what stands on it. */
export class GroundObject extends Group {
  readonly #wide = new Mesh();
  readonly #contact = new Mesh();
  readonly #grid = new LineSegments();
  #key = '';

  constructor(materials: Materials) {
    super();
    this.#wide.material = materials.shadow;
    this.#contact.material = materials.shadow;
    this.#grid.material = materials.grid;
    this.#grid.renderOrder = -3;
    this.#wide.renderOrder = -2;
    this.#contact.renderOrder = -1;
    for (const object of [this.#wide, this.#contact, this.#grid]) {
      object.raycast = () => undefined;
      this.add(object);
    }
  }

  /**
   * @param over outline of the widest thing above, throwing the wide shadow from `height` above the table.
   * @param on outline of what lies on the table.
   */
  update(z: number, over: PlateOutline, height: number, on: PlateOutline): void {
    this.position.z = z;
    const key = JSON.stringify([over, height, on]);
    if (key === this.#key) return;
    this.#key = key;
    this.#wide.geometry = shadowGeometry(filled(this.#wide.geometry), softShadow(over, 0.008 + 1.6 * height));
    this.#contact.geometry = shadowGeometry(filled(this.#contact.geometry), softShadow(on, 0.005));
    const size = Math.max(...[over, on].map((o) => (o.shape === 'circle' ? o.diameter : Math.max(o.width, o.height))));
    const radius = 0.01 * Math.ceil((size * 0.95) / 0.01 + 2);
    this.#grid.geometry = fadingGeometry(filled(this.#grid.geometry), groundGrid(0.01, radius, 0.55));
  }

  override dispose(): void {
    super.dispose();
    this.#wide.geometry.dispose();
    this.#contact.geometry.dispose();
    this.#grid.geometry.dispose();
    this.#key = '';
  }
}
