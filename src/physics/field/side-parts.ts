import { isMirrored } from '../coil/mirrored.ts';
import { MU0 } from '../constants.ts';
import type { OutlineBox } from './outline-grid.ts';
import { addPanelField } from './panel-potential.ts';
import { allocatePanels, type PanelSet, panelPoints, setPanel } from './panel-set.ts';
import { type PlateMesh, plateMesh } from './plate-mesh.ts';
import { type PlateResponse, plateResponse } from './plate-response.ts';
import { type SheetNetwork, sheetNetwork, skinDepth } from './sheet-network.ts';
import { type SideLayout, sideLayout } from './side-layout.ts';
import type { Listeners } from './skeleton.ts';
import type { FerritePlate, LinkSide } from './types.ts';
import { NodeLadder, windingOnPanels } from './winding-potential.ts';

/** Everything on one side at one level that does not depend on the pose or on what lies beyond. */
export interface SideParts {
  readonly layout: SideLayout;
  readonly ladder: NodeLadder;
  readonly ferrite: PlateResponse | null;
  readonly sheet: SheetNetwork | null;
  /** Sheet resistance over omega mu0, m. */
  readonly sheetRatio: number;
  /** Ferrite panels (member orbit + orbits * lower) and the sheet's loops. */
  readonly listeners: Listeners;
  /** Ferrite members: 2 orbits. */
  readonly charged: number;
  /** Potential per ampere of the own coil on each charged panel, image by image, [4 charged]. */
  readonly ownPotential: Float64Array;
  /** H flux per ampere of the own coil through each loop, image by image, m. */
  readonly ownFlux: Float64Array;
}

/** How finely a side is cut. */
export interface Fineness {
  readonly level: number;
  readonly ferriteCell: number;
  readonly metalCell: number;
  /** The part of the sheet that is cut into loops. */
  readonly metalBox: OutlineBox;
}

/** @param frequency at which a metal sheet's skin depth is taken, Hz */
export function sideParts(side: LinkSide, back: 1 | -1, fineness: Fineness, frequency: number): SideParts {
  const layout = sideLayout(side, back);
  const ladder = new NodeLadder(side.winding);
  const { level } = fineness;
  let ferrite: PlateResponse | null = null;
  if (side.ferrite) {
    const { outline, thickness, relativePermeability } = side.ferrite;
    const mesh = plateMesh(outline, thickness, fineness.ferriteCell, level, 1);
    ferrite = plateResponse(mesh, relativePermeability - 1, sharesOf(mesh, side.ferrite));
  }
  let sheet: SheetNetwork | null = null;
  let sheetRatio = 0;
  if (side.metal) {
    const depth = Math.min(side.metal.thickness, skinDepth(side.metal.conductivity, frequency));
    sheet = sheetNetwork(
      fineness.metalBox,
      side.metal.thickness,
      layout.metalFront + (back * depth) / 2,
      fineness.metalCell,
      level,
    );
    sheetRatio = 1 / (side.metal.conductivity * depth) / (2 * Math.PI * frequency * MU0);
  }
  const listeners = gather(ferrite, layout, sheet);
  const charged = listeners.members;
  return {
    layout,
    ladder,
    ferrite,
    sheet,
    sheetRatio,
    listeners,
    charged,
    ownPotential: windingOnPanels(ladder, listeners.panels, new Float64Array(4 * charged), level === 1),
    ownFlux: sheet ? fluxThroughLoops(ladder, sheet) : new Float64Array(0),
  };
}

/** What is left of the susceptibility in each cell of the quarter; null where it is the same everywhere. */
function sharesOf(mesh: PlateMesh, { relativePermeability, permeabilityAt }: FerritePlate): Float64Array | null {
  if (!permeabilityAt) return null;
  const { centre } = mesh.panels;
  return Float64Array.from(
    { length: mesh.faceOrbits },
    (_, cell) => (permeabilityAt(centre[3 * cell]!, centre[3 * cell + 1]!) - 1) / (relativePermeability - 1),
  );
}

/** The charged panels of a side, image by image, in the coil's frame. */
function gather(ferrite: PlateResponse | null, layout: SideLayout, sheet: SheetNetwork | null): Listeners {
  const orbits = ferrite?.mesh.orbits ?? 0;
  const members = 2 * orbits;
  const panels = allocatePanels(4 * members);
  const corners = new Float64Array(12);
  for (let g = 0; g < 4; g++) {
    for (let k = 0; k < members; k++) {
      const p = (k < orbits ? g : g + 4) * orbits + (k % orbits);
      const from = ferrite!.mesh.panels.corner;
      for (let i = 0; i < 12; i++) corners[i] = from[12 * p + i]! + (i % 3 === 2 ? layout.ferriteMiddle : 0);
      setPanel(panels, g * members + k, corners);
    }
  }
  return { panels, members, loops: sheet?.loops ?? null, loopMembers: sheet?.members ?? 0 };
}

const points = new Float64Array(4 * 64);

/** H flux of the winding through each loop. */
function fluxThroughLoops(ladder: NodeLadder, sheet: SheetNetwork): Float64Array {
  const { loops } = sheet;
  const out = new Float64Array(loops.count);
  const { winding } = ladder;
  const height = Math.max(
    2e-5,
    Math.abs(loops.centre[2]!) - Math.max(...winding.turns.map((turn) => Math.abs(turn.z))),
  );
  const { nodes } = ladder.at(0.5 * height);
  const mirrored = isMirrored(winding);
  for (let l = 0; l < (mirrored ? sheet.members : loops.count); l++) {
    const order = Math.min(8, Math.max(2, Math.ceil((1.5 * loops.size[l]!) / height)));
    panelPoints(loops, l, order, points);
    let sum = 0;
    for (let i = 0; i < 4 * order * order; i += 4) {
      const x = points[i]!;
      const y = points[i + 1]!;
      const z = points[i + 2]!;
      let normal = 0;
      for (let k = 0; k < nodes.count; k++) {
        const rx = x - nodes.x[k]!;
        const ry = y - nodes.y[k]!;
        const rz = z - nodes.z[k]!;
        const r2 = rx * rx + ry * ry + rz * rz;
        normal += (nodes.dx[k]! * ry - nodes.dy[k]! * rx) / (r2 * Math.sqrt(r2));
      }
      sum += points[i + 3]! * normal;
    }
    out[l] = (loops.area[l]! * sum) / (4 * Math.PI);
  }
  if (mirrored) for (let g = 1; g < 4; g++) out.copyWithin(g * sheet.members, 0, sheet.members);
  return out;
}

const field = new Float64Array(3);

/**
 * Potential per ampere of loop l (counter-clockwise seen from +z) at a point: the solid angle of its cell over 4 pi.
 * Taken from the normal field of a uniform charge on the cell, which is that angle; beyond three cells its dipole.
 */
export function loopPotential(loops: PanelSet, l: number, x: number, y: number, z: number): number {
  const rx = x - loops.centre[3 * l]!;
  const ry = y - loops.centre[3 * l + 1]!;
  const rz = z - loops.centre[3 * l + 2]!;
  const r2 = rx * rx + ry * ry + rz * rz;
  if (r2 > 9 * loops.size[l]! ** 2) return (loops.area[l]! * rz) / (4 * Math.PI * r2 * Math.sqrt(r2));
  field.fill(0);
  addPanelField(loops, l, x, y, z, 1 / (4 * Math.PI), field);
  return field[2]!;
}
