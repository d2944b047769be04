import { MU0 } from '../constants.ts';
import { panelPoints } from './panel-set.ts';
import { type CellFlux, plateFlux } from './plate-flux.ts';
import { plateMesh } from './plate-mesh.ts';
import { plateResponse, respond } from './plate-response.ts';
import type { FerritePlate } from './types.ts';

/** Magnetic scalar potential of a source outside the plate, A, at a point of the plate's frame (H = -grad). */
export type SourcePotential = (x: number, y: number, z: number) => number;

/** A ferrite plate by itself in the field of any source, for magnets. The plate's frame is centred in the plate. */
export interface PlateInField {
  /** Mean potential of a source on each panel, A: what the other functions take. */
  potential(source: SourcePotential): Float64Array;
  /**
   * Half of mu0 times the charges that a leaves against the potential of b, J, negative for a = b. With a = b it is the
   * energy of a fixed source and the plate; forces on the source are minus its gradient over the source's place. Two
   * sources together: energy(a, a) + 2 energy(a, b) + energy(b, b).
   */
  energy(a: Float64Array, b: Float64Array): number;
  /** Flux density in the plate, T. */
  flux(a: Float64Array): CellFlux;
}

/** Cells at level 1 along the shorter half, and the level. */
const ACROSS = 3.5;
const LEVEL = 3;

/**
 * @param plate its standoff is not used
 * Accuracy: 24 cells across; energies within 0.2 % where the source is no nearer than a cell (short side / 21).
 */
export function plateInField(plate: FerritePlate): PlateInField {
  const { outline } = plate;
  const short = outline.shape === 'circle' ? outline.diameter : Math.min(outline.width, outline.height);
  const long = outline.shape === 'circle' ? outline.diameter : Math.max(outline.width, outline.height);
  const cell = Math.max(short / 2 / ACROSS, long / 2 / 6);
  const response = plateResponse(plateMesh(outline, plate.thickness, cell, LEVEL, 1), plate.relativePermeability - 1);
  const { panels, orbits } = response.mesh;
  const points = new Float64Array(4 * 9);
  const charges = (phi: Float64Array) => respond(response, phi, new Float64Array(phi.length));
  return {
    potential(source) {
      return Float64Array.from({ length: panels.count }, (_, p) => {
        panelPoints(panels, p, 3, points);
        let sum = 0;
        for (let i = 0; i < points.length; i += 4) {
          sum += points[i + 3]! * source(points[i]!, points[i + 1]!, points[i + 2]!);
        }
        return sum;
      });
    },
    energy(a, b) {
      const q = charges(a);
      let sum = 0;
      for (let p = 0; p < q.length; p++) sum += q[p]! * b[p]!;
      return (MU0 / 2) * sum;
    },
    flux(a) {
      const q = charges(a);
      // From eight images to the four of a side: upper then lower members.
      const ordered = new Float64Array(q.length);
      for (let g = 0; g < 4; g++) {
        ordered.set(q.subarray(g * orbits, (g + 1) * orbits), 2 * g * orbits);
        ordered.set(q.subarray((g + 4) * orbits, (g + 5) * orbits), (2 * g + 1) * orbits);
      }
      return plateFlux(response, ordered);
    },
  };
}
