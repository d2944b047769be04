/**
 * What the 3-D view takes and what it tells. Plain data: SI units, radians; no three.js here, so that stations may import
 * this file without loading it. Load the view itself lazily: `const { LinkScene } = await import('../scene/link-scene.ts')`.
 *
 * Frames are those of the design: origin in the centre of the transmitter winding's mid-plane, z towards the receiver.
 */
import type { PlateOutline, Pose, Winding } from '../physics/coil/types.ts';

export type Side = 'transmitter' | 'receiver';

/** `Outer`, `Inner`: diameters of a circle. The rest: full widths to the conductors' edges. */
export type ShapeQuantity =
  | 'Outer'
  | 'Inner'
  | 'OuterWidth'
  | 'OuterHeight'
  | 'InnerWidth'
  | 'InnerHeight'
  | 'CornerRadius'
  | 'Turns';

export type PoseHandle = 'offset' | 'gap' | 'yaw' | 'tiltX' | 'tiltY';
export type ShapeHandle = `${Side}${ShapeQuantity}`;
export type HandleId = PoseHandle | ShapeHandle;

/**
 * Where a number stands. The same as the handles, but offset has one number for each axis.
 */
export type AnchorId = Exclude<HandleId, 'offset'> | 'offsetX' | 'offsetY';

/** New value of a handle: metres, radians, or a whole number of turns. */
export type HandleValue =
  | { readonly handle: 'offset'; readonly x: number; readonly y: number }
  | { readonly handle: Exclude<HandleId, 'offset'>; readonly value: number };

/** Colours as `#rrggbb` or `rgb(r, g, b)`, the page's tokens of the same names; `paletteAt(element)` in `palette.ts` reads them. */
export interface ScenePalette {
  readonly scheme: 'light' | 'dark';
  readonly paper: string;
  readonly sheet: string;
  readonly ink: string;
  readonly soft: string;
  readonly rule: string;
  /** The transmitter, and nothing else. */
  readonly copper: string;
  /** The receiver, and nothing else. */
  readonly steel: string;
  readonly bad: string;
  readonly ferrite: string;
  readonly metal: string;
  readonly wood: string;
  readonly plain: string;
  readonly textile: string;
}

/** A ferrite or metal plate behind a winding, centred on its axis. */
export interface ScenePlate {
  readonly outline: PlateOutline;
  readonly thickness: number;
  /** Clear distance from the winding's back surface (or, for metal, from the ferrite's back) to the plate's near face. */
  readonly standoff: number;
}

export interface SceneCoil {
  readonly winding: Winding;
  readonly ferrite: ScenePlate | null;
  readonly metal: ScenePlate | null;
}

/** How a layer of the stack looks; `lookOf(name)` in `slab-look.ts` guesses it from the layer's name. */
export type SlabMaterial = 'wood' | 'textile' | 'plastic' | 'glass' | 'stone' | 'air';

/** A layer between the windings, from the transmitter's surface upwards in the order given. */
export interface SceneSlab {
  readonly name: string;
  readonly thickness: number;
  readonly material: SlabMaterial;
  /** Layers of the receiver move and tilt with it. */
  readonly side: Side;
}

export interface LinkSceneData {
  readonly transmitter: SceneCoil;
  readonly receiver: SceneCoil;
  /** Of the receiver in the transmitter's frame; `z` between the mid-planes. */
  readonly pose: Pose;
  /** The stack from the transmitter up; receiver layers must come last. */
  readonly slabs: readonly SceneSlab[];
  /** Further transmitter coils of the same make, centres in the transmitter's frame. */
  readonly furtherCoils?: readonly { readonly x: number; readonly y: number; readonly z: number }[];
  /** Field lines as strips, [n, 3] row-major x y z in the transmitter's frame; absent or null: not shown. */
  readonly fieldLines?: readonly Float64Array[] | null;
  readonly palette: ScenePalette;
  /** Handles on offer; absent: all that fit the outlines. */
  readonly handles?: readonly HandleId[];
  /** Bounds a drag must keep to (metres, radians, turns). A gap and a width never go below zero. */
  readonly limits?: Partial<Record<AnchorId, { readonly min?: number; readonly max?: number }>>;
  /** Handles whose last value was refused: drawn as such until the next update. */
  readonly faults?: readonly HandleId[];
  /** Whether plates and layers are cut open towards the viewer. Default true. */
  readonly cutaway?: boolean;
  /** Names the picture for those who cannot see it. */
  readonly description?: string;
  /** Accessible name of a handle; default in English words. */
  readonly handleNames?: Partial<Record<HandleId, string>>;
}

export interface GrabDetail {
  readonly handle: HandleId;
}

export interface DragDetail {
  readonly change: HandleValue;
  /** False when Shift or Alt is held: not rounded to whole millimetres or 5 degrees. */
  readonly snapped: boolean;
  readonly by: 'pointer' | 'keyboard';
}

export interface ReleaseDetail {
  readonly handle: HandleId;
  /** True where Escape took the change back; the last `drag` then carried the value from before. */
  readonly cancelled: boolean;
}

/** What lies under a point. */
export type PickId =
  | { readonly kind: 'winding'; readonly side: Side; readonly turn: number }
  | { readonly kind: 'ferrite' | 'metal'; readonly side: Side }
  | { readonly kind: 'slab'; readonly index: number };

export type SceneView = 'reset' | 'top' | 'side';

export interface LinkSceneEvents {
  grab: GrabDetail;
  drag: DragDetail;
  release: ReleaseDetail;
  /** A coil was clicked: all its numbers and handles are shown; null: none is. */
  select: Side | null;
  /** What the pointer is over; null when it leaves. Sent on change only. */
  hover: PickId | null;
  /** After each drawn frame: the time to read `anchors()`. */
  frame: undefined;
  /** The drawing context was lost: show the drawn plan until `restored`. */
  lost: undefined;
  restored: undefined;
}

/** Where a number stands, in CSS pixels from the container's top left. */
export interface Anchor {
  readonly id: AnchorId;
  readonly x: number;
  readonly y: number;
  /** False: behind the viewer, outside the picture, or its handle is not shown now. */
  readonly visible: boolean;
  /** Side of the point on which the number should stand, as a unit vector in the picture (y down). */
  readonly towardX: number;
  readonly towardY: number;
  /** Where the handle stands that it belongs to; null: none is offered now. */
  readonly knob: { readonly x: number; readonly y: number } | null;
}

/** Counts that must return to zero on `dispose()`. */
export interface SceneCounts {
  readonly geometries: number;
  readonly textures: number;
  readonly programs: number;
  readonly triangles: number;
  readonly drawCalls: number;
  readonly frames: number;
}
