import { pieceReach } from '../coil/piece-geometry.ts';
import type { Winding } from '../coil/types.ts';
import { incidentClasses } from './link-solver.ts';
import { outlineBox } from './outline-grid.ts';
import { type SideLayout, sideLayout } from './side-layout.ts';
import { type SideNetwork, sideCharges, sideCurrents, sideNetwork } from './side-network.ts';
import { type Fineness, type SideParts, sideParts } from './side-parts.ts';
import { emptySkeleton, findSkeleton, fullSkeleton } from './skeleton.ts';
import { type FlatBody, sideBodies } from './solid-bodies.ts';
import type { LinkSide } from './types.ts';

/** Below this height over the foremost panel nothing is thinned out, m. */
const LEAST_HEIGHT = 0.7e-3;
/** Beyond this height all sources count as being there, m. */
const MOST_HEIGHT = 0.064;

/** One side with everything that is kept between poses: its parts by level, its networks by level and height. */
export class SideModel {
  readonly side: LinkSide;
  readonly back: 1 | -1;
  readonly bodies: readonly FlatBody[];
  readonly #layout: SideLayout;
  readonly #frequency: number;
  readonly #parts = new Map<number, SideParts>();
  readonly #networks = new Map<string, SideNetwork>();

  constructor(side: LinkSide, back: 1 | -1, frequency: number) {
    this.side = side;
    this.back = back;
    this.bodies = sideBodies(side, back);
    this.#layout = sideLayout(side, back);
    this.#frequency = frequency;
  }

  get bare(): boolean {
    return !this.side.ferrite && !this.side.metal;
  }

  /**
   * Size of a level's ferrite cells over the breadth of the charge that the winding leaves there: beyond about 0.6 the
   * grids are too coarse for their difference to tell the error.
   */
  coarseness(level: number): number {
    if (!this.side.ferrite) return 0;
    const breadth =
      windingBreadth(this.side.winding) + 2 * (this.side.ferrite.standoff + this.side.winding.halfThickness);
    return fineness(this.side, level).ferriteCell / level / breadth;
  }

  parts(level: number): SideParts {
    let parts = this.#parts.get(level);
    if (!parts) {
      parts = sideParts(this.side, this.back, fineness(this.side, level), this.#frequency);
      this.#parts.set(level, parts);
    }
    return parts;
  }

  /** Height of the foremost panel in the coil's frame, m. */
  get front(): number {
    return this.side.ferrite ? this.#layout.ferriteFront : this.#layout.metalFront;
  }

  /**
   * @param clear height of the nearest foreign body over the foremost panel, m
   * @param looseness factor on how much thinning may change
   */
  network(level: number, clear: number, looseness = 1): SideNetwork {
    const rung = clear < LEAST_HEIGHT ? -99 : Math.floor(2 * Math.log2(Math.min(clear, MOST_HEIGHT) / 1e-3));
    const key = `${level}/${rung}/${looseness}`;
    let network = this.#networks.get(key);
    if (!network) {
      network = this.#build(level, rung, looseness);
      this.#networks.set(key, network);
    }
    return network;
  }

  #build(level: number, rung: number, looseness: number): SideNetwork {
    const parts = this.parts(level);
    if (rung === -99) return sideNetwork(parts, fullSkeleton(parts.listeners));
    const height = 1e-3 * 2 ** (rung / 2);
    const reach = sideReach(this.side);
    const plane = this.front - this.back * height;
    // Potentials from far away are small and smooth: they are wanted to a smaller share of the largest.
    const tolerance = 3e-4 * looseness * Math.min(1, ((0.12 * reach) / height) ** 2);
    const spacing = Math.max(0.7 * height, reach / 22);
    return sideNetwork(parts, findSkeleton(parts.listeners, plane, height, spacing, tolerance));
  }

  /** Change of the own coil's inductance over mu0, far side absent, m. */
  self(level: number): number {
    return this.#aloneNetwork(level).self;
  }

  #aloneNetwork(level: number): SideNetwork {
    const key = `${level}/alone`;
    const network =
      this.#networks.get(key) ?? sideNetwork(this.parts(level), emptySkeleton(this.parts(level).listeners));
    this.#networks.set(key, network);
    return network;
  }

  /** What the side's own coil leaves on its plates per ampere, the far side absent. */
  alone(level: number): { readonly charges: Float64Array; readonly currents: Float64Array } {
    const parts = this.parts(level);
    const network = this.#aloneNetwork(level);
    const incident = incidentClasses(network, new Float64Array(0), 1);
    return {
      charges: sideCharges(network, parts.charged, incident),
      currents: sideCurrents(network, parts.listeners.loopMembers, incident),
    };
  }
}

/** Half-extent of the largest of a side's plates and its winding, m. */
function sideReach(side: LinkSide): number {
  const boxes = [side.ferrite?.outline, side.metal?.outline].flatMap((o) => (o ? [outlineBox(o)] : []));
  return boxes.reduce((m, b) => Math.max(m, b.halfWidth, b.halfHeight), windingReach(side.winding));
}

/** From the innermost turn to the outermost, m. */
function windingBreadth(winding: Winding): number {
  const reaches = winding.turns.map((turn) => Math.max(...turn.pieces.map((piece) => Math.max(...pieceReach(piece)))));
  return Math.max(...reaches) - Math.min(...reaches);
}

const windingReach = (winding: Winding) => Math.max(winding.halfWidth, winding.halfHeight);

/**
 * Cells at level 1: a 3.5th of the plate's shorter half and a third of the winding's, but no more than six along the
 * longer half, so that the two grids have 16 and 24 cells across a plate that fits its coil. Metal takes cells of
 * its own: a 4.4th of the winding's half, at most seven along the longer half of the part that is modelled.
 */
function fineness(side: LinkSide, level: number): Fineness {
  const cell = (outline: Parameters<typeof outlineBox>[0], across: number, along: number) => {
    const { halfWidth, halfHeight } = outlineBox(outline);
    const short = Math.min(halfWidth, halfHeight);
    const wanted = Math.min(short / across, windingReach(side.winding) / 3);
    return Math.max(wanted, Math.max(halfWidth, halfHeight) / along);
  };
  // Of a large sheet only what lies within a few widths of coil and ferrite carries current that matters.
  const ferriteBox = side.ferrite ? outlineBox(side.ferrite.outline) : null;
  const near =
    SHEET_REACH * Math.max(windingReach(side.winding), ferriteBox?.halfWidth ?? 0, ferriteBox?.halfHeight ?? 0);
  const sheet = side.metal ? outlineBox(side.metal.outline) : { halfWidth: near, halfHeight: near, radius: 0 };
  const halfWidth = Math.min(near, sheet.halfWidth);
  const halfHeight = Math.min(near, sheet.halfHeight);
  const metalBox = { halfWidth, halfHeight, radius: Math.min(sheet.radius, halfWidth, halfHeight) };
  const wanted = windingReach(side.winding) / 4.4;
  return {
    level,
    ferriteCell: side.ferrite ? cell(side.ferrite.outline, 3.5, 6) : 1,
    metalCell: Math.max(wanted, Math.max(halfWidth, halfHeight) / 7),
    metalBox,
  };
}

/** Extent to which a sheet is modelled over that of its coil and ferrite: what lies beyond changes L and M by 0.2 %. */
const SHEET_REACH = 1.7;
