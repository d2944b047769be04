import { Group, Mesh } from 'three';
import type { PlateOutline } from '../../physics/coil/types.ts';
import { softShadow } from '../build/soft-shadow.ts';
import type { LinkSceneData } from '../types.ts';
import { filled, shadowGeometry } from './geometry.ts';
import type { Materials } from './materials.ts';

/** Width of the soft edge, m; a mean over the usual gaps, so that dragging the gap rebuilds nothing. */
const REACH = 0.007;

/** The shadow that the receiver throws on the transmitter. */
export class ShadowObject extends Group {
  readonly #mesh = new Mesh();
  #key = '';

  constructor(materials: Materials) {
    super();
    this.#mesh.material = materials.cast;
    this.#mesh.renderOrder = 1;
    this.#mesh.raycast = () => undefined;
    this.add(this.#mesh);
  }

  /** @param z height on which it falls. */
  update(outline: PlateOutline, z: number): void {
    this.position.z = z;
    const key = JSON.stringify(outline);
    if (key === this.#key) return;
    this.#key = key;
    this.#mesh.geometry = shadowGeometry(filled(this.#mesh.geometry), softShadow(outline, REACH));
  }

  pose({ pose }: Pick<LinkSceneData, 'pose'>): void {
    this.position.x = pose.x;
    this.position.y = pose.y;
    this.rotation.z = pose.yaw;
  }

  override dispose(): void {
    super.dispose();
    this.#mesh.geometry.dispose();
    this.#key = '';
  }
}
