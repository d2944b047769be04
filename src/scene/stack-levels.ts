import type { PlateOutline } from '../physics/coil/types.ts';
import type { LinkSceneData, SceneCoil, ScenePlate, SceneSlab, Side, SlabMaterial } from './types.ts';
import { fromReceiver, type Vec3 } from './vectors.ts';

/** A plate or layer with its height, in the frame of the coil it belongs to, m. */
export interface Level {
  readonly side: Side;
  readonly outline: PlateOutline;
  readonly z0: number;
  readonly z1: number;
}

export interface PlateLevel extends Level {
  readonly kind: 'ferrite' | 'metal';
}

export interface SlabLevel extends Level {
  /** Position in `LinkSceneData.slabs`. */
  readonly index: number;
  readonly material: SlabMaterial;
}

/** Half-widths along x and y, m. */
export interface Extent {
  readonly x: number;
  readonly y: number;
}

/** How far a layer is drawn beyond what it covers, m. Layers have no size of their own in a design. */
const OVERHANG = { transmitter: 0.006, receiver: 0.0035 };
/** Each further layer of a side is drawn this much narrower, so that edges do not coincide, m. */
const STEP_IN = 0.0012;

const outlineExtent = (outline: PlateOutline): Extent =>
  outline.shape === 'circle'
    ? { x: outline.diameter / 2, y: outline.diameter / 2 }
    : { x: outline.width / 2, y: outline.height / 2 };

const widest = (extents: readonly Extent[]): Extent => ({
  x: Math.max(...extents.map((e) => e.x)),
  y: Math.max(...extents.map((e) => e.y)),
});

/** Half-widths of a coil with its plates. */
export function coilExtent(coil: SceneCoil): Extent {
  const plates = [coil.ferrite, coil.metal].filter((p): p is ScenePlate => p !== null);
  return widest([
    { x: coil.winding.halfWidth, y: coil.winding.halfHeight },
    ...plates.map((p) => outlineExtent(p.outline)),
  ]);
}

/** Plates of a coil, behind its winding: below for the transmitter, above for the receiver. */
export function plateLevels(coil: SceneCoil, side: Side): readonly PlateLevel[] {
  const sign = side === 'transmitter' ? -1 : 1;
  const levels: PlateLevel[] = [];
  let back = coil.winding.halfThickness;
  const place = (kind: 'ferrite' | 'metal', plate: ScenePlate | null): void => {
    if (plate === null) return;
    const near = back + plate.standoff;
    back = near + plate.thickness;
    levels.push({
      kind,
      side,
      outline: plate.outline,
      z0: Math.min(sign * near, sign * back),
      z1: Math.max(sign * near, sign * back),
    });
  };
  place('ferrite', coil.ferrite);
  place('metal', coil.metal);
  return levels;
}

/** Distance from a coil's mid-plane to its outermost back surface, m. */
export function backDistance(coil: SceneCoil): number {
  return Math.max(coil.winding.halfThickness, ...plateLevels(coil, 'receiver').map((level) => level.z1));
}

/**
 * The layers between the windings: those of the transmitter rise from its surface, those of the receiver hang below its
 * winding, last one first. Air takes its place but is not drawn. Where the pose leaves less room than the layers need
 * they overlap, as they would on paper.
 */
export function slabLevels(data: Pick<LinkSceneData, 'transmitter' | 'receiver' | 'slabs'>): readonly SlabLevel[] {
  const own = { transmitter: coilExtent(data.transmitter), receiver: coilExtent(data.receiver) };
  const cover = widest([own.transmitter, own.receiver]);
  const levels: SlabLevel[] = [];
  const place = (slab: SceneSlab, index: number, from: number, to: number, nth: number): void => {
    if (slab.material === 'air' || !(slab.thickness > 0)) return;
    const base = slab.side === 'transmitter' ? cover : own.receiver;
    const grow = OVERHANG[slab.side] - nth * STEP_IN;
    const outline: PlateOutline = {
      shape: 'roundedRectangle',
      width: 2 * (base.x + grow),
      height: 2 * (base.y + grow),
      cornerRadius: slab.side === 'transmitter' ? 0.004 : 0.007,
    };
    levels.push({
      side: slab.side,
      index,
      material: slab.material,
      outline,
      z0: Math.min(from, to),
      z1: Math.max(from, to),
    });
  };
  let up = data.transmitter.winding.halfThickness;
  let nth = 0;
  data.slabs.forEach((slab, i) => {
    if (slab.side !== 'transmitter') return;
    place(slab, i, up, up + slab.thickness, nth++);
    up += slab.thickness;
  });
  let down = -data.receiver.winding.halfThickness;
  nth = 0;
  for (let i = data.slabs.length - 1; i >= 0; i--) {
    const slab = data.slabs[i]!;
    if (slab.side !== 'receiver') continue;
    place(slab, i, down, down - slab.thickness, nth++);
    down -= slab.thickness;
  }
  return levels;
}

/** Corners of everything drawn except further coils, in the transmitter's frame: what a camera must see. */
export function corners(data: LinkSceneData): readonly Vec3[] {
  const out: Vec3[] = [];
  const t = coilExtent(data.transmitter);
  const r = coilExtent(data.receiver);
  const slabs = slabLevels(data);
  const below = -backDistance(data.transmitter);
  const above = backDistance(data.receiver);
  for (const sx of [-1, 1])
    for (const sy of [-1, 1]) {
      for (const z of [below, data.transmitter.winding.halfThickness]) out.push([sx * t.x, sy * t.y, z]);
      for (const z of [above, -data.receiver.winding.halfThickness])
        out.push(fromReceiver(data.pose, [sx * r.x, sy * r.y, z]));
      for (const slab of slabs) {
        const e = outlineExtent(slab.outline);
        const p: Vec3 = [sx * e.x, sy * e.y, slab.z1];
        out.push(slab.side === 'transmitter' ? p : fromReceiver(data.pose, p));
      }
    }
  return out;
}
