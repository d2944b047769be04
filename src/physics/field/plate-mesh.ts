import type { PlateOutline } from '../coil/types.ts';
import { type OutlineGrid, outlineBox, outlineGrid } from './outline-grid.ts';
import { allocatePanels, type PanelSet, setPanel } from './panel-set.ts';

/** Images of a panel under the plate's three mirrors: bit 1 turns x, bit 2 turns y, bit 4 turns z. */
export const IMAGES = 8;

/**
 * Surface of a flat plate cut into panels, centred on the origin, top at +z. Panels come in orbits of eight mirror
 * images; panel `image * orbits + orbit` is image `image` of an orbit whose member 0 lies at x, y, z > 0. Face orbits
 * come first (cell i * cellsY + j of the grid), then the rim: along the +y rim cell by cell, then along the +x rim,
 * and that for each layer from the middle up.
 */
export interface PlateMesh {
  readonly grid: OutlineGrid;
  readonly thickness: number;
  readonly orbits: number;
  readonly faceOrbits: number;
  /** Heights of the rim layers' borders over the middle, from 0 to thickness / 2. */
  readonly layerBorders: Float64Array;
  readonly panels: PanelSet;
}

/**
 * @param cell size of the even cells at level 1, m
 * @param level refinement level, see `outlineGrid`
 * @param layers rim layers in the upper half
 */
export function plateMesh(
  outline: PlateOutline,
  thickness: number,
  cell: number,
  level: number,
  layers: number,
): PlateMesh {
  const grid = outlineGrid(outlineBox(outline), cell, level);
  const { cellsX, cellsY, x, y } = grid;
  const faceOrbits = cellsX * cellsY;
  const rimEdges = cellsX + cellsY;
  const orbits = faceOrbits + rimEdges * layers;
  const layerBorders = Float64Array.from(
    { length: layers + 1 },
    (_, l) => (thickness / 2) * (1 - (1 - l / layers) ** 1.5),
  );
  const panels = allocatePanels(IMAGES * orbits);
  const base = new Float64Array(12);
  const image = new Float64Array(12);
  const place = (orbit: number) => {
    for (let g = 0; g < IMAGES; g++) {
      for (let k = 0; k < 12; k += 3) {
        image[k] = g & 1 ? -base[k]! : base[k]!;
        image[k + 1] = g & 2 ? -base[k + 1]! : base[k + 1]!;
        image[k + 2] = g & 4 ? -base[k + 2]! : base[k + 2]!;
      }
      setPanel(panels, g * orbits + orbit, image);
    }
  };
  const node = (i: number, j: number, z: number, k: number) => {
    base[3 * k] = x[i * (cellsY + 1) + j]!;
    base[3 * k + 1] = y[i * (cellsY + 1) + j]!;
    base[3 * k + 2] = z;
  };
  for (let i = 0; i < cellsX; i++) {
    for (let j = 0; j < cellsY; j++) {
      node(i, j, thickness / 2, 0);
      node(i + 1, j, thickness / 2, 1);
      node(i + 1, j + 1, thickness / 2, 2);
      node(i, j + 1, thickness / 2, 3);
      place(i * cellsY + j);
    }
  }
  for (let l = 0; l < layers; l++) {
    for (let e = 0; e < rimEdges; e++) {
      const [a, b] = rimNodes(grid, e);
      const low = layerBorders[l]!;
      const high = layerBorders[l + 1]!;
      base.set([x[a]!, y[a]!, low, x[b]!, y[b]!, low, x[b]!, y[b]!, high, x[a]!, y[a]!, high]);
      place(faceOrbits + l * rimEdges + e);
    }
  }
  return { grid, thickness, orbits, faceOrbits, layerBorders, panels };
}

/** The two nodes of rim edge e: along the +y rim for e < cellsX, then along the +x rim. */
export function rimNodes(grid: OutlineGrid, e: number): [number, number] {
  const { cellsX, cellsY } = grid;
  if (e < cellsX) return [e * (cellsY + 1) + cellsY, (e + 1) * (cellsY + 1) + cellsY];
  const j = e - cellsX;
  return [cellsX * (cellsY + 1) + j, cellsX * (cellsY + 1) + j + 1];
}
