import { Group, type Intersection, type Raycaster } from 'three';
import type { PlateOutline, Winding } from '../../physics/coil/types.ts';
import type { Wedge } from '../build/outline-points.ts';
import type { Outlook } from '../outlook.ts';
import { backDistance, coilExtent, plateLevels, type SlabLevel, slabLevels } from '../stack-levels.ts';
import type { LinkSceneData, PickId, SceneCoil, Side } from '../types.ts';
import { poseRotation } from '../vectors.ts';
import { FieldObject } from './field-object.ts';
import { GroundObject } from './ground-object.ts';
import { Materials } from './materials.ts';
import { PlateObject } from './plate-object.ts';
import { ShadowObject } from './shadow-object.ts';
import { WindingObject } from './winding-object.ts';

/** Scene units per metre: the scene is in millimetres. The one scale of the whole scene, set on this root. */
export const UNITS_PER_METRE = 1000;

type PlateKey = `${Side} ${'ferrite' | 'metal'}`;

/** Everything drawn with triangles. Knows the data, not the page. */
export class LinkModel extends Group {
  readonly #materials = new Materials();
  readonly #ground = new GroundObject(this.#materials);
  readonly #field = new FieldObject(this.#materials);
  readonly #receiver = new Group();
  readonly #cast: ShadowObject;
  readonly #windings = {
    transmitter: new WindingObject('transmitter', this.#materials),
    receiver: new WindingObject('receiver', this.#materials),
  };
  readonly #plates = new Map<PlateKey, PlateObject>();
  readonly #slabs: PlateObject[] = [];
  #palette: unknown = null;

  constructor() {
    super();
    this.scale.setScalar(UNITS_PER_METRE);
    this.#receiver.matrixAutoUpdate = false;
    this.add(this.#ground, this.#field, this.#windings.transmitter, this.#receiver);
    this.#receiver.add(this.#windings.receiver);
    this.#cast = new ShadowObject(this.#materials);
    this.add(this.#cast);
  }

  update(data: LinkSceneData, outlook: Outlook): void {
    if (data.palette !== this.#palette) {
      this.#materials.colour(data.palette);
      this.#palette = data.palette;
    }
    this.#windings.transmitter.update(data.transmitter.winding, data.furtherCoils);
    this.#windings.receiver.update(data.receiver.winding);
    const wedge: Wedge | null =
      data.cutaway === false
        ? null
        : { from: (outlook.quarter * Math.PI) / 2, to: ((outlook.quarter + 1) * Math.PI) / 2 };
    // The coil on the far side keeps its plates whole: they hide nothing and make its ground.
    this.#updatePlates(data.transmitter, 'transmitter', outlook.above ? null : wedge);
    this.#updatePlates(data.receiver, 'receiver', outlook.above ? wedge : null);
    const levels = slabLevels(data);
    this.#updateSlabs(levels, wedge, outlook.above);
    this.#updateGround(data, levels);
    this.#field.update(data.fieldLines ?? null);
    const winding = data.receiver.winding;
    this.#cast.update(
      {
        shape: 'roundedRectangle',
        width: 2 * winding.halfWidth,
        height: 2 * winding.halfHeight,
        cornerRadius: castRadius(winding),
      },
      data.transmitter.winding.halfThickness + 0.0002,
    );
    this.pose(data);
  }

  /** Moves the receiver: transforms only. */
  pose(data: LinkSceneData): void {
    const r = poseRotation(data.pose);
    const { x, y, z } = data.pose;
    this.#receiver.matrix.set(r[0]!, r[1]!, r[2]!, x, r[3]!, r[4]!, r[5]!, y, r[6]!, r[7]!, r[8]!, z, 0, 0, 0, 1);
    this.#receiver.matrixWorldNeedsUpdate = true;
    this.#cast.pose(data);
  }

  pick(ray: Raycaster): PickId | null {
    const hits: Intersection[] = ray.intersectObjects(
      [this.#windings.transmitter, this.#receiver, ...this.#slabs],
      true,
    );
    for (const hit of hits) {
      const id = hit.object.userData.pick as ((triangle: number) => PickId) | undefined;
      if (id !== undefined) return id(hit.faceIndex ?? 0);
    }
    return null;
  }

  override dispose(): void {
    super.dispose();
    this.#ground.dispose();
    this.#field.dispose();
    this.#cast.dispose();
    this.#windings.transmitter.dispose();
    this.#windings.receiver.dispose();
    for (const plate of this.#plates.values()) plate.dispose();
    for (const slab of this.#slabs) slab.dispose();
    this.#plates.clear();
    this.#slabs.length = 0;
    this.#materials.dispose();
    this.clear();
  }

  #updatePlates(coil: SceneCoil, side: Side, wedge: Wedge | null): void {
    const m = this.#materials;
    const levels = plateLevels(coil, side);
    for (const kind of ['ferrite', 'metal'] as const) {
      const key: PlateKey = `${side} ${kind}`;
      const level = levels.find((l) => l.kind === kind);
      let plate = this.#plates.get(key);
      if (level === undefined) {
        plate?.removeFromParent();
        plate?.dispose();
        this.#plates.delete(key);
        continue;
      }
      if (plate === undefined) {
        plate = new PlateObject();
        this.#plates.set(key, plate);
        (side === 'receiver' ? this.#receiver : this).add(plate);
      }
      const look =
        kind === 'ferrite'
          ? { body: m.ferrite, cut: m.ferriteCut, edge: m.edge }
          : { body: m.metal, cut: m.metalCut, edge: m.edge };
      plate.update(level.outline, level.z0, level.z1, wedge, look, { kind, side }, 0);
    }
  }

  #updateSlabs(levels: readonly SlabLevel[], wedge: Wedge | null, above: boolean): void {
    const m = this.#materials;
    while (this.#slabs.length > levels.length) {
      const slab = this.#slabs.pop()!;
      slab.removeFromParent();
      slab.dispose();
    }
    levels.forEach((level, i) => {
      let slab = this.#slabs[i];
      if (slab === undefined) {
        slab = new PlateObject();
        this.#slabs[i] = slab;
      }
      const parent = level.side === 'receiver' ? this.#receiver : this;
      if (slab.parent !== parent) parent.add(slab);
      if (level.material === 'air') return;
      const look = { body: m.slab[level.material], cut: m.slabCut[level.material], edge: m.faintEdge };
      // Far layers first: they show through near ones.
      const order = 10 + (above ? level.index : 100 - level.index);
      slab.update(level.outline, level.z0, level.z1, wedge, look, { kind: 'slab', index: level.index }, order);
    });
  }

  #updateGround(data: LinkSceneData, levels: readonly SlabLevel[]): void {
    const back = backDistance(data.transmitter);
    const own = coilExtent(data.transmitter);
    const on: PlateOutline = data.transmitter.metal?.outline ??
      data.transmitter.ferrite?.outline ?? {
        shape: 'roundedRectangle',
        width: 2 * own.x,
        height: 2 * own.y,
        cornerRadius: Math.min(own.x, own.y),
      };
    const shelf = levels.find((level) => level.side === 'transmitter');
    const height = shelf === undefined ? 0.002 : back + shelf.z0;
    this.#ground.update(-back - 0.0001, shelf?.outline ?? on, height, on);
  }
}

/** Corner radius of the shadow that a winding throws. */
function castRadius(winding: Winding): number {
  const { outline } = winding.spec;
  if (outline.shape === 'roundedRectangle') return outline.outerCornerRadius;
  return Math.min(winding.halfWidth, winding.halfHeight);
}
