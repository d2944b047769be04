import { MU0 } from '../constants.ts';
import { type OutlineBox, outlineGrid } from './outline-grid.ts';
import { allocatePanels, type PanelSet, setPanel } from './panel-set.ts';

/**
 * Flat metal sheet as a lattice of current loops, one around each cell. Loop `image * members + member`, images 0..3
 * under the mirrors x and y; every loop counter-clockwise seen from +z.
 */
export interface SheetNetwork {
  readonly members: number;
  /** Cells as panels, at the sheet's effective plane in the coil's frame. */
  readonly loops: PanelSet;
  /** H flux through each loop per ampere in the others (inductance over mu0), m, one block per mirror class. */
  readonly flux: readonly Float64Array[];
  /** Dissipation for a sheet resistance of one ohm, one block per mirror class. */
  readonly resistance: readonly Float64Array[];
}

/** Depth to which an alternating field enters a metal, m. */
export function skinDepth(conductivity: number, frequency: number): number {
  return Math.sqrt(1 / (Math.PI * frequency * MU0 * conductivity));
}

/**
 * @param height of the effective plane in the coil's frame, m
 * @param cell size of a cell at level 1, m
 * The lattice ends a quarter of a cell inside the true edge and the normal field vanishes at the cell centres: the rule
 * of vortex lattices, which makes the answer converge as the square of the cell.
 * Source: quarter-cell inset after the vortex-lattice method (Falkner 1943, Rubbert 1964; from memory).
 */
export function sheetNetwork(
  outline: OutlineBox,
  thickness: number,
  height: number,
  cell: number,
  level: number,
): SheetNetwork {
  const box = thickOutline(outline, thickness);
  const inset = (half: number) => {
    const count = Math.max(2, Math.round(half / cell)) * level;
    return half / (4 * count + 1);
  };
  const insetX = inset(box.halfWidth);
  const insetY = inset(box.halfHeight);
  const grid = outlineGrid(
    {
      halfWidth: box.halfWidth - insetX,
      halfHeight: box.halfHeight - insetY,
      radius: Math.max(0, box.radius - Math.max(insetX, insetY)),
    },
    cell,
    level,
    'even',
  );
  const { cellsX, cellsY, x, y } = grid;
  const members = cellsX * cellsY;
  const loops = allocatePanels(4 * members);
  for (let g = 0; g < 4; g++) {
    const sx = g & 1 ? -1 : 1;
    const sy = g & 2 ? -1 : 1;
    const turned = sx * sy < 0;
    for (let i = 0; i < cellsX; i++) {
      for (let j = 0; j < cellsY; j++) {
        const a = i * (cellsY + 1) + j;
        const ring = [a, a + cellsY + 1, a + cellsY + 2, a + 1];
        if (turned) ring.reverse();
        setPanel(
          loops,
          g * members + i * cellsY + j,
          ring.flatMap((k) => [sx * x[k]!, sy * y[k]!, height]),
        );
      }
    }
  }
  return {
    members,
    loops,
    flux: fluxBlocks(loops, members),
    resistance: resistanceBlocks(loops, cellsX, cellsY, insetX, insetY),
  };
}

/**
 * Outline of the sheet without thickness that turns the flux away as one with square edges does: larger by
 * (t / 4 pi) (1 + ln(8 pi l / t)) all round, seen from a distance l, taken as 0.4 of the half-width.
 * Source: conformal map of the end of a thick half-plane, z = (t / 2 pi) (w sqrt(w^2 - 1) - arcosh w); own derivation.
 */
function thickOutline(box: OutlineBox, whole: number): OutlineBox {
  // What lies deeper than the field reaches into a block adds nothing to its edge, and the form holds for thin sheets only.
  const distance = 0.4 * Math.min(box.halfWidth, box.halfHeight);
  const thickness = Math.min(whole, distance);
  const grown = (thickness / (4 * Math.PI)) * (1 + Math.log((8 * Math.PI * distance) / thickness));
  return { halfWidth: box.halfWidth + grown, halfHeight: box.halfHeight + grown, radius: box.radius + grown };
}

function fluxBlocks(loops: PanelSet, members: number): Float64Array[] {
  const blocks = Array.from({ length: 4 }, () => new Float64Array(members * members));
  for (let i = 0; i < members; i++) {
    for (let j = 0; j <= i; j++) {
      for (let g = 0; g < 4; g++) {
        const value = (centreFlux(loops, i, g * members + j) + centreFlux(loops, j, g * members + i)) / 2;
        for (let c = 0; c < 4; c++) {
          const signed = ((c & g) ^ ((c & g) >> 1)) & 1 ? -value : value;
          blocks[c]![i * members + j] = blocks[c]![i * members + j]! + signed;
          if (i !== j) blocks[c]![j * members + i] = blocks[c]![j * members + i]! + signed;
        }
      }
    }
  }
  return blocks;
}

/** Area of loop i times the normal H that a unit current in loop j of the same plane makes at its centre. */
function centreFlux(loops: PanelSet, i: number, j: number): number {
  const rx = loops.centre[3 * i]! - loops.centre[3 * j]!;
  const ry = loops.centre[3 * i + 1]! - loops.centre[3 * j + 1]!;
  const f = loops.frame;
  const u = rx * f[9 * j]! + ry * f[9 * j + 1]!;
  const v = rx * f[9 * j + 3]! + ry * f[9 * j + 4]!;
  let sum = 0;
  for (let k = 0, at = 20 * j; k < 4; k++, at += 5) {
    const tu = loops.edge[at + 2]!;
    const tv = loops.edge[at + 3]!;
    const au = loops.edge[at]! - u;
    const av = loops.edge[at + 1]! - v;
    const before = au * tu + av * tv;
    const after = before + loops.edge[at + 4]!;
    const away = au * tv - av * tu;
    if (Math.abs(away) < 1e-12) continue;
    sum += (after / Math.hypot(after, away) - before / Math.hypot(before, away)) / away;
  }
  return (loops.area[i]! * sum) / (4 * Math.PI);
}

/** Currents of neighbouring loops differ along their common edge and spread over half a cell on each side. */
function resistanceBlocks(
  loops: PanelSet,
  cellsX: number,
  cellsY: number,
  insetX: number,
  insetY: number,
): Float64Array[] {
  const members = cellsX * cellsY;
  const corner = (p: number, k: number, axis: number) => loops.corner[12 * p + 3 * k + axis]!;
  const edge = (p: number, a: number, b: number) =>
    Math.hypot(corner(p, a, 0) - corner(p, b, 0), corner(p, a, 1) - corner(p, b, 1));
  const toEdge = (p: number, a: number, b: number) =>
    Math.hypot(
      loops.centre[3 * p]! - (corner(p, a, 0) + corner(p, b, 0)) / 2,
      loops.centre[3 * p + 1]! - (corner(p, a, 1) + corner(p, b, 1)) / 2,
    );
  return [0, 1, 2, 3].map((c) => {
    const block = new Float64Array(members * members);
    const add = (i: number, j: number, value: number) => {
      block[i * members + j] = block[i * members + j]! + value;
    };
    for (let i = 0; i < cellsX; i++) {
      for (let j = 0; j < cellsY; j++) {
        const p = i * cellsY + j;
        // On an axis the neighbour is the own image: no difference in an even class, twice the current in an odd one,
        // half of it counted here.
        if (i === 0 && c & 1) add(p, p, (2 * edge(p, 3, 0)) / (2 * toEdge(p, 3, 0)));
        if (j === 0 && c & 2) add(p, p, (2 * edge(p, 0, 1)) / (2 * toEdge(p, 0, 1)));
        if (i === cellsX - 1) add(p, p, edge(p, 1, 2) / (toEdge(p, 1, 2) + insetX));
        if (j === cellsY - 1) add(p, p, edge(p, 2, 3) / (toEdge(p, 2, 3) + insetY));
        for (const [other, a, b, d, e] of [
          [i < cellsX - 1 ? p + cellsY : -1, 1, 2, 3, 0],
          [j < cellsY - 1 ? p + 1 : -1, 2, 3, 0, 1],
        ] as const) {
          if (other < 0) continue;
          const share = edge(p, a, b) / (toEdge(p, a, b) + toEdge(other, d, e));
          add(p, p, share);
          add(other, other, share);
          add(p, other, -share);
          add(other, p, -share);
        }
      }
    }
    return block;
  });
}
