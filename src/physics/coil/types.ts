/**
 * Shapes shared by the magnetics folders. SI units and radians throughout.
 * A coil's own frame: origin in the centre of the winding's mid-plane, z along its axis.
 */

/** Outline of a winding. Widths run to the conductors' outermost and innermost edges, metres. */
export type CoilOutline =
  | { readonly shape: 'circle'; readonly outerDiameter: number; readonly innerDiameter: number }
  | {
      readonly shape: 'roundedRectangle';
      readonly outerWidth: number;
      readonly outerHeight: number;
      readonly innerWidth: number;
      readonly innerHeight: number;
      /** Corner radius of the outer conductor edge. */
      readonly outerCornerRadius: number;
      /** Corner radius of the inner conductor edge; null: follows from the pitch. */
      readonly innerCornerRadius: number | null;
    }
  | {
      readonly shape: 'stadium';
      readonly outerWidth: number;
      readonly outerHeight: number;
      readonly innerWidth: number;
      readonly innerHeight: number;
    }
  | {
      readonly shape: 'path';
      /** Closed centre line of the outermost turn, [n, 2] row-major x y, not repeating the first point. */
      readonly points: Float64Array;
      /** Distance between neighbouring turns' centre lines. */
      readonly pitch: number;
    };

/** Outline of a flat plate (ferrite or metal), centred on its coil's axis, metres. */
export type PlateOutline =
  | { readonly shape: 'circle'; readonly diameter: number }
  | {
      readonly shape: 'roundedRectangle';
      readonly width: number;
      readonly height: number;
      readonly cornerRadius: number;
    }
  | { readonly shape: 'stadium'; readonly width: number; readonly height: number };

/** Conductor cross-section, metres. */
export type Conductor =
  | {
      readonly kind: 'litz';
      readonly strands: number;
      readonly strandDiameter: number;
      readonly bundleDiameter: number;
    }
  | { readonly kind: 'solid'; readonly diameter: number; readonly insulatedDiameter: number }
  | { readonly kind: 'trace'; readonly width: number; readonly thickness: number };

export interface CoilSpec {
  readonly outline: CoilOutline;
  /** Turns in all, over all layers. Whole for rings; a spiral may have a fraction. */
  readonly turns: number;
  readonly layers: number;
  /** Distance between layer centres, m. */
  readonly layerPitch: number;
  /** Wires wound side by side and connected in parallel (2 = bifilar). */
  readonly filars: number;
  /** Nested closed turns, or one true spiral with its lead and crossover. */
  readonly winding: 'rings' | 'spiral';
  readonly conductor: Conductor;
  /** Side on which a spiral's return lead crosses: -1 (default, a transmitter's back) or +1 (a receiver's back). */
  readonly leadSide?: -1 | 1;
}

/**
 * A straight piece, or an arc about (cx, cy) from angle `start` through the signed angle `sweep` (2 pi for a circle).
 * Pieces lie in their turn's plane; `dz` (arc), `dz0` and `dz1` (ends of a line) are heights above it, 0 where absent.
 * Only true spirals use them: for layers after the first, for the step between layers and for the return lead.
 */
export type Piece = LinePiece | ArcPiece;

export interface LinePiece {
  readonly kind: 'line';
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly dz0?: number;
  readonly dz1?: number;
}

export interface ArcPiece {
  readonly kind: 'arc';
  readonly cx: number;
  readonly cy: number;
  readonly radius: number;
  readonly start: number;
  readonly sweep: number;
  readonly dz?: number;
}

/**
 * One closed current path, counter-clockwise seen from +z, in a plane z = const.
 * A true spiral is one such path through all turns and layers and back by its lead; z is then its first layer's plane.
 */
export interface Turn {
  readonly pieces: readonly Piece[];
  readonly z: number;
  /** Share of the coil current in this path: 1, or 1/filars. */
  readonly weight: number;
}

/** A coil as wound. */
export interface Winding {
  readonly spec: CoilSpec;
  /** Outermost first, layer by layer from the lowest z. */
  readonly turns: readonly Turn[];
  /**
   * Distance between neighbouring paths' centre lines in one layer along x, and along y, m. Zero for a single turn.
   * With several filars this is the distance between neighbouring wires; the turns are `filars` times as far apart.
   */
  readonly pitchX: number;
  readonly pitchY: number;
  /** Half the winding's height along z, to the conductor surfaces, m. A spiral's return lead is not counted. */
  readonly halfThickness: number;
  /** Half-extent of the winding to its conductor edges, m. */
  readonly halfWidth: number;
  readonly halfHeight: number;
  /** Length of one wire, m (series length; filars run in parallel). */
  readonly wireLength: number;
}

/** Where the receiver sits: p goes to Rx(tiltX) Ry(tiltY) Rz(yaw) p + (x, y, z). z is between the mid-planes, m. */
export interface Pose {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly yaw: number;
  readonly tiltX: number;
  readonly tiltY: number;
}

/** Quadrature nodes on a winding's centre lines; dx dy dz hold the line element times weight. Metres. */
export interface FilamentNodes {
  readonly count: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  readonly dx: Float64Array;
  readonly dy: Float64Array;
  readonly dz: Float64Array;
}
