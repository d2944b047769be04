import { MU0 } from '../constants.ts';
import { interiorGradient } from './plate-interior.ts';
import type { PlateResponse } from './plate-response.ts';
import { classPart, oddUnder } from './side-network.ts';

/** In-plane flux density of a plate, mean over each cell and its thickness. */
export interface CellFlux {
  /** Centres of the cells, [n, 2] x y in the coil's frame, m. */
  readonly centres: Float64Array;
  /** [n, 2] Bx, By in T. */
  readonly density: Float64Array;
  /** Largest magnitude, T: hold it against the material's saturation. */
  readonly largest: number;
}

/**
 * Flux density inside a ferrite from the charges on its surface: B = -mu0 mu_r grad u.
 *
 * @param charges [4 * 2 orbits], image by image, upper then lower members
 * Accuracy: cell means to a few per cent; flux through the middle of a plate agrees with the charges that balance it.
 */
export function plateFlux(response: PlateResponse, charges: Float64Array): CellFlux {
  const { mesh, susceptibility, shares } = response;
  const { faceOrbits, orbits } = mesh;
  const centres = new Float64Array(8 * faceOrbits);
  const density = new Float64Array(8 * faceOrbits);
  const scaleOf = (cell: number) => -MU0 * ((shares ? shares[cell]! : 1) + 1 / susceptibility);
  for (let c = 0; c < 4; c++) {
    const part = classPart(charges, 2 * orbits, c);
    const even = Float64Array.from({ length: orbits }, (_, o) => (part[o]! + part[orbits + o]!) / 2);
    const gradient = interiorGradient(mesh, c, even, shares);
    for (let g = 0; g < 4; g++) {
      for (let cell = 0; cell < faceOrbits; cell++) {
        const sign = oddUnder(c, g) ? -scaleOf(cell) : scaleOf(cell);
        const at = 2 * (g * faceOrbits + cell);
        density[at] = density[at]! + sign * (g & 1 ? -1 : 1) * gradient[2 * cell]!;
        density[at + 1] = density[at + 1]! + sign * (g & 2 ? -1 : 1) * gradient[2 * cell + 1]!;
      }
    }
  }
  let largest = 0;
  for (let g = 0; g < 4; g++) {
    for (let cell = 0; cell < faceOrbits; cell++) {
      const at = 2 * (g * faceOrbits + cell);
      const p = 3 * (g * orbits + cell);
      centres[at] = mesh.panels.centre[p]!;
      centres[at + 1] = mesh.panels.centre[p + 1]!;
      largest = Math.max(largest, Math.hypot(density[at]!, density[at + 1]!));
    }
  }
  return { centres, density, largest };
}
