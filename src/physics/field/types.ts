import type { PlateOutline, Winding } from '../coil/types.ts';

/** A linear ferrite plate parallel to its coil, behind the winding. SI. */
export interface FerritePlate {
  readonly outline: PlateOutline;
  readonly thickness: number;
  /** Clear distance from the winding's back surface to the plate's facing surface. */
  readonly standoff: number;
  readonly relativePermeability: number;
  readonly lossTangent: number;
  /**
   * Relative permeability at a place of the plate, m from its middle, where it is not `relativePermeability` everywhere (a
   * magnet's steady flux lowers it). Asked in one quarter, x and y >= 0, which stands for all four.
   */
  readonly permeabilityAt?: (x: number, y: number) => number;
}

/** A flat metal sheet parallel to its coil, behind the ferrite, or behind the winding where there is none. SI. */
export interface MetalSheet {
  readonly outline: PlateOutline;
  readonly thickness: number;
  /** From the ferrite's back surface (the winding's back where there is none). */
  readonly standoff: number;
  /** S/m */
  readonly conductivity: number;
}

/** One side of the link. The transmitter's parts lie towards -z of its winding, the receiver's towards +z. */
export interface LinkSide {
  readonly winding: Winding;
  readonly ferrite: FerritePlate | null;
  readonly metal: MetalSheet | null;
}

/** Changes of the inductances against air, H. */
export interface GridChange {
  readonly dL1: number;
  readonly dL2: number;
  readonly dM: number;
}
