import { PerspectiveCamera, Vector2 } from 'three';
import { type CameraRig, cameraBasis, FIELD_OF_VIEW } from './camera-rig.ts';
import type { Projected } from './guide-strokes.ts';
import type { Ray } from './handles/drag-rule.ts';
import { UNITS_PER_METRE } from './objects/link-model.ts';
import { scale, subtract, type Vec3 } from './vectors.ts';

/** The rig's view as a camera, and between points of the model (metres) and of the picture. */
export class ViewCamera {
  readonly camera = new PerspectiveCamera((FIELD_OF_VIEW * 180) / Math.PI, 1, 1, 4000);
  readonly #rig: CameraRig;
  readonly #canvas: HTMLCanvasElement;

  constructor(rig: CameraRig, canvas: HTMLCanvasElement) {
    this.#rig = rig;
    this.#canvas = canvas;
    this.camera.matrixAutoUpdate = false;
  }

  /** Brings the camera to where the rig stands. */
  place(): void {
    const { right: r, up: u, back: b, position: p } = cameraBasis(this.#rig.state);
    this.camera.matrix.set(r[0], u[0], b[0], p[0], r[1], u[1], b[1], p[1], r[2], u[2], b[2], p[2], 0, 0, 0, 1);
    const { distance } = this.#rig.state;
    this.camera.near = distance / 20;
    this.camera.far = distance * 4;
    this.camera.updateProjectionMatrix();
    this.camera.updateMatrixWorld(true);
  }

  aspect(value: number): void {
    this.#rig.aspect(value);
    this.camera.aspect = value;
  }

  /** From the picture into depth. */
  get sight(): Vec3 {
    return scale(cameraBasis(this.#rig.state).back, -1);
  }

  /** Where points appear in a picture of this size, CSS pixels. */
  projection(width: number, height: number): (point: Vec3) => Projected {
    const { position, right, up, back } = cameraBasis(this.#rig.state);
    const focal = height / 2 / Math.tan(FIELD_OF_VIEW / 2);
    return (point) => {
      const d = subtract(scale(point, UNITS_PER_METRE), position);
      const depth = -(d[0] * back[0] + d[1] * back[1] + d[2] * back[2]);
      const x = d[0] * right[0] + d[1] * right[1] + d[2] * right[2];
      const y = d[0] * up[0] + d[1] * up[1] + d[2] * up[2];
      return { x: width / 2 + (focal * x) / depth, y: height / 2 - (focal * y) / depth, seen: depth > 0 };
    };
  }

  /** A point of the page in the camera's own measure, -1..1; null where the picture has no size. */
  normalised(clientX: number, clientY: number): Vector2 | null {
    const box = this.#canvas.getBoundingClientRect();
    if (box.width === 0 || box.height === 0) return null;
    return new Vector2(((clientX - box.left) / box.width) * 2 - 1, 1 - ((clientY - box.top) / box.height) * 2);
  }

  /** Line of sight through a point of the page, in metres. */
  ray(clientX: number, clientY: number): Ray {
    const at = this.normalised(clientX, clientY) ?? new Vector2();
    const { right, up, back, position } = cameraBasis(this.#rig.state);
    const t = Math.tan(FIELD_OF_VIEW / 2);
    const kx = at.x * t * this.camera.aspect;
    const ky = at.y * t;
    const d: Vec3 = [
      right[0] * kx + up[0] * ky - back[0],
      right[1] * kx + up[1] * ky - back[1],
      right[2] * kx + up[2] * ky - back[2],
    ];
    return { origin: scale(position, 1 / UNITS_PER_METRE), direction: scale(d, 1 / Math.hypot(...d)) };
  }
}
