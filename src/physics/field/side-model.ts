import { pieceReach } from '../coil/piece-geometry.ts';
import type { Winding } from '../coil/types.ts';
import { incidentClasses } from './link-solver.ts';
import { type OutlineBox, outlineBox } from './outline-grid.ts';
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

  /** Half-extent of the cut part of a larger sheet, m; null where the whole sheet is modelled. */
  get cutOff(): number | null {
    const sheet = sheetBox(this.side);
    return sheet?.cutOff ? Math.min(sheet.box.halfWidth, sheet.box.halfHeight) : null;
  }

  /** Distance from the winding's mid-plane to the sheet's front, m. */
  get sheetDepth(): number {
    return Math.abs(this.#layout.metalFront);
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

/** Half-extent of what is modelled of a side: its winding, its ferrite, and of its sheet the part that is cut, m. */
function sideReach(side: LinkSide): number {
  const boxes = side.ferrite ? [outlineBox(side.ferrite.outline)] : [];
  const sheet = sheetBox(side);
  if (sheet) boxes.push(sheet.box);
  return boxes.reduce((m, b) => Math.max(m, b.halfWidth, b.halfHeight), windingReach(side.winding));
}

/** Reach of a side's coil and ferrite, m. */
function innerReach({ winding, ferrite }: LinkSide): number {
  const box = ferrite ? outlineBox(ferrite.outline) : null;
  return Math.max(windingReach(winding), box?.halfWidth ?? 0, box?.halfHeight ?? 0);
}

/** The part of a side's sheet that is cut into loops, and whether it is less than the whole sheet. */
function sheetBox(side: LinkSide): { readonly box: OutlineBox; readonly cutOff: boolean } | null {
  if (!side.metal) return null;
  const near = SHEET_REACH * innerReach(side);
  const { halfWidth, halfHeight, radius } = outlineBox(side.metal.outline);
  const width = Math.min(near, halfWidth);
  const height = Math.min(near, halfHeight);
  return {
    box: { halfWidth: width, halfHeight: height, radius: Math.min(radius, width, height) },
    cutOff: near < Math.max(halfWidth, halfHeight),
  };
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
 * its own: a 4.4th of the winding's half, at most seven (eight of a large sheet) along the longer half of the part that is modelled.
 */
function fineness(side: LinkSide, level: number): Fineness {
  const cell = (outline: Parameters<typeof outlineBox>[0], across: number, along: number) => {
    const { halfWidth, halfHeight } = outlineBox(outline);
    const short = Math.min(halfWidth, halfHeight);
    const wanted = Math.min(short / across, windingReach(side.winding) / 3);
    return Math.max(wanted, Math.max(halfWidth, halfHeight) / along);
  };
  const sheet = sheetBox(side);
  const half = sheet ? Math.max(sheet.box.halfWidth, sheet.box.halfHeight) : 0;
  // A sheet much larger than what is on it takes more cells, so that they stay as fine under the coil.
  const along = half > WIDE_SHEET * innerReach(side) ? 8 : 7;
  return {
    level,
    ferriteCell: side.ferrite ? cell(side.ferrite.outline, 3.5, 6) : 1,
    metalCell: Math.max(windingReach(side.winding) / 4.4, half / along),
    metalBox: sheet?.box ?? { halfWidth: 1, halfHeight: 1, radius: 0 },
  };
}

/** Extent to which a sheet is modelled over that of its coil and ferrite; for what lies beyond see `sheet-cutoff.ts`. */
const SHEET_REACH = 2.1;
const WIDE_SHEET = 1.7;
