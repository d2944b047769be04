import { choleskyFactor, choleskySolve } from '../../numerics/cholesky.ts';
import { addProduct, addTransposedProduct } from '../../numerics/dense.ts';
import { ConvergenceError } from '../../numerics/errors.ts';
import { panelPoints } from './panel-set.ts';
import { loopPotential, type SideParts } from './side-parts.ts';
import type { Skeleton } from './skeleton.ts';

/** Mirror classes of a side under x and y. */
export const CLASSES = 4;

/**
 * One side of the link as everything beyond a plane sees it. What happens on the side is linear in the incident vector
 * of `quarter + 1` numbers per mirror class: the mean potentials psi that the far side causes on the skeleton's panels,
 * and the current in the own coil.
 */
export interface SideNetwork {
  readonly quarter: number;
  readonly skeleton: Skeleton;
  /** Per class [quarter + 1, quarter + 1]: minus equivalent charges on the skeleton; last row: flux in the own coil. */
  readonly response: readonly Float64Array[];
  /** Equivalent charges per ampere in the own coil, [4 quarter]. */
  readonly own: Float64Array;
  /** Change of the own coil's inductance over mu0, far side absent, m. */
  readonly self: number;
  /** Per class: minus ferrite charges, [charged, quarter + 1], even under z first, then odd; see `sideCharges`. */
  readonly charges: readonly Float64Array[];
  /** Per class: minus loop currents, [loops, quarter + 1]. */
  readonly currents: readonly Float64Array[];
  /** Per class: d(response)/d(mu_r), [quarter + 1, quarter + 1]; empty without ferrite. */
  readonly permeability: readonly Float64Array[];
  /** Per class: dissipation over omega mu0 in the sheet, [quarter + 1, quarter + 1]; empty without metal. */
  readonly dissipation: readonly Float64Array[];
}

/** Assembles a side's network: ferrite answers the potential, the sheet keeps its flux (but for its resistance) zero. */
export function sideNetwork(parts: SideParts, skeleton: Skeleton): SideNetwork {
  const { quarter } = skeleton;
  const width = quarter + 1;
  const perClass = [0, 1, 2, 3].map((c) => classNetwork(parts, skeleton, c));
  const own = new Float64Array(CLASSES * quarter);
  let self = 0;
  perClass.forEach(({ response }, c) => {
    self += CLASSES * response[width * width - 1]!;
    for (let g = 0; g < 4; g++) {
      const sign = oddUnder(c, g) ? 1 : -1;
      for (let s = 0; s < quarter; s++) {
        own[g * quarter + s] = own[g * quarter + s]! + sign * response[s * width + quarter]!;
      }
    }
  });
  return {
    quarter,
    skeleton,
    own,
    self,
    response: perClass.map((c) => c.response),
    charges: perClass.map((c) => c.charges),
    currents: perClass.map((c) => c.currents),
    permeability: perClass.map((c) => c.permeability),
    dissipation: perClass.map((c) => c.dissipation),
  };
}

/** True where class c changes sign under image g (bits: 1 mirrors x, 2 mirrors y). */
export const oddUnder = (c: number, g: number) => (((c & g) ^ ((c & g) >> 1)) & 1) !== 0;

function classNetwork(parts: SideParts, skeleton: Skeleton, c: number) {
  const { quarter } = skeleton;
  const width = quarter + 1;
  const { charged } = parts;
  const loops = parts.listeners.loopMembers;
  const potential = incident(skeleton.coefficients, charged, quarter, classPart(parts.ownPotential, charged, c));
  toParity(potential, charged / 2, width);
  const flux = incident(skeleton.loopCoefficients, loops, quarter, classPart(parts.ownFlux, loops, c));
  // Charges of the ferrite alone, then what the sheet's currents change.
  const charges = new Float64Array(charged * width);
  applyFerrite(parts, c, potential, width, charges);
  const currents = new Float64Array(loops * width);
  const dissipation = new Float64Array(parts.sheet ? width * width : 0);
  if (parts.sheet) {
    const coupling = loopPotentials(parts, c);
    toParity(coupling, charged / 2, loops);
    const answered = new Float64Array(charged * loops);
    applyFerrite(parts, c, coupling, loops, answered);
    const stiffness = parts.sheet.flux[c]!.slice();
    addTransposedProduct(coupling, answered, charged, loops, loops, 1, stiffness);
    const driven = flux.slice();
    addTransposedProduct(coupling, charges, charged, loops, width, 1, driven);
    solveSheet(stiffness, parts.sheet.resistance[c]!, parts.sheetRatio, driven, loops, width, currents, dissipation);
    addProduct(answered, currents, charged, loops, width, -1, charges);
  }
  const response = new Float64Array(width * width);
  addTransposedProduct(potential, charges, charged, width, width, 1, response);
  addTransposedProduct(flux, currents, loops, width, width, -1, response);
  const permeability = new Float64Array(parts.ferrite ? width * width : 0);
  if (parts.ferrite) {
    const drop = new Float64Array(charged * width);
    const n = charged / 2;
    for (const [half, block] of [parts.ferrite.interior[c]!, parts.ferrite.interior[c + 4]!].entries()) {
      const at = half * n * width;
      addProduct(block, charges.subarray(at, at + n * width), n, n, width, 1, drop.subarray(at, at + n * width));
    }
    const scale = 1 / parts.ferrite.susceptibility ** 2;
    addTransposedProduct(charges, drop, charged, width, width, scale, permeability);
  }
  return { response, charges, currents, permeability, dissipation };
}

/** Columns of a unit potential on each skeleton panel, then that of a unit own current. */
function incident(coefficients: Float64Array, rows: number, quarter: number, own: Float64Array): Float64Array {
  const out = new Float64Array(rows * (quarter + 1));
  for (let k = 0; k < rows; k++) {
    out.set(coefficients.subarray(k * quarter, (k + 1) * quarter), k * (quarter + 1));
    out[k * (quarter + 1) + quarter] = own[k]!;
  }
  return out;
}

/** Part of a vector over images that belongs to class c. */
export function classPart(values: Float64Array, members: number, c: number): Float64Array {
  const out = new Float64Array(members);
  for (let g = 0; g < 4; g++) {
    const sign = oddUnder(c, g) ? -0.25 : 0.25;
    for (let k = 0; k < members; k++) out[k] = out[k]! + sign * values[g * members + k]!;
  }
  return out;
}

/** Rows of upper and lower panels to their normalised sum and difference (and back: it is its own inverse). */
function toParity(rows: Float64Array, n: number, width: number): void {
  const half = Math.SQRT1_2;
  for (let i = 0; i < n * width; i++) {
    const upper = rows[i]!;
    const lower = rows[n * width + i]!;
    rows[i] = half * (upper + lower);
    rows[n * width + i] = half * (upper - lower);
  }
}

/** out = G phi for both parities. */
function applyFerrite(parts: SideParts, c: number, phi: Float64Array, width: number, out: Float64Array): void {
  if (!parts.ferrite) return;
  const n = parts.charged / 2;
  const { blocks } = parts.ferrite;
  addProduct(blocks[c]!, phi.subarray(0, n * width), n, n, width, 1, out.subarray(0, n * width));
  addProduct(blocks[c + 4]!, phi.subarray(n * width), n, n, width, 1, out.subarray(n * width));
}

const points = new Float64Array(4 * 4);

/** Mean potential on each charged panel of a unit current in every loop, class c, [charged, loops]. */
function loopPotentials(parts: SideParts, c: number): Float64Array {
  const { charged, listeners } = parts;
  const { panels, loops, loopMembers } = listeners;
  const out = new Float64Array(charged * loopMembers);
  for (let k = 0; k < charged; k++) {
    panelPoints(panels, k, 2, points);
    for (let g = 0; g < 4; g++) {
      const sign = oddUnder(c, g) ? -1 : 1;
      for (let l = 0; l < loopMembers; l++) {
        let sum = 0;
        for (let i = 0; i < 16; i += 4) {
          sum +=
            points[i + 3]! * loopPotential(loops!, g * loopMembers + l, points[i]!, points[i + 1]!, points[i + 2]!);
        }
        out[k * loopMembers + l] = out[k * loopMembers + l]! + sign * sum;
      }
    }
  }
  return out;
}

/**
 * Currents in phase with their cause, (W + r^2 Z W^-1 Z)^-1 s, and what the whole current dissipates over omega mu0;
 * r is the sheet resistance over omega mu0.
 */
function solveSheet(
  inductance: Float64Array,
  resistance: Float64Array,
  ratio: number,
  driven: Float64Array,
  n: number,
  width: number,
  currents: Float64Array,
  dissipation: Float64Array,
): void {
  const factor = inductance.slice();
  if (!choleskyFactor(factor, n)) throw new ConvergenceError('sheet', 'The sheet network lost its definiteness.');
  const column = new Float64Array(n);
  const delayed = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    for (let i = 0; i < n; i++) column[i] = resistance[i * n + j]!;
    choleskySolve(factor, n, column);
    for (let i = 0; i < n; i++) delayed[i * n + j] = column[i]!;
  }
  const total = inductance.slice();
  addProduct(resistance, delayed, n, n, n, ratio * ratio, total);
  if (!choleskyFactor(total, n)) throw new ConvergenceError('sheet', 'The sheet network lost its definiteness.');
  for (let j = 0; j < width; j++) {
    for (let i = 0; i < n; i++) column[i] = driven[i * width + j]!;
    choleskySolve(total, n, column);
    for (let i = 0; i < n; i++) currents[i * width + j] = column[i]!;
  }
  // Quadrature currents r W^-1 Z I, both dissipate in Z.
  const quadrature = new Float64Array(n * width);
  addProduct(delayed, currents, n, n, width, ratio, quadrature);
  for (const part of [currents, quadrature]) {
    const drop = new Float64Array(n * width);
    addProduct(resistance, part, n, n, width, ratio, drop);
    addTransposedProduct(part, drop, n, width, width, 1, dissipation);
  }
}

/** Charges on the side's ferrite panels, image by image [4 charged], from the incident vectors of the four classes. */
export function sideCharges(network: SideNetwork, charged: number, incidents: readonly Float64Array[]): Float64Array {
  const width = network.quarter + 1;
  const out = new Float64Array(4 * charged);
  const n = charged / 2;
  for (let c = 0; c < CLASSES; c++) {
    const part = new Float64Array(charged);
    for (let k = 0; k < charged; k++) {
      let sum = 0;
      for (let s = 0; s < width; s++) sum -= network.charges[c]![k * width + s]! * incidents[c]![s]!;
      part[k] = sum;
    }
    toParity(part, n, 1);
    spreadImages(part, c, out);
  }
  return out;
}

/** Currents of the side's loops, image by image. */
export function sideCurrents(network: SideNetwork, loops: number, incidents: readonly Float64Array[]): Float64Array {
  const width = network.quarter + 1;
  const out = new Float64Array(4 * loops);
  for (let c = 0; c < CLASSES; c++) {
    const part = new Float64Array(loops);
    for (let k = 0; k < loops; k++) {
      let sum = 0;
      for (let s = 0; s < width; s++) sum -= network.currents[c]![k * width + s]! * incidents[c]![s]!;
      part[k] = sum;
    }
    spreadImages(part, c, out);
  }
  return out;
}

function spreadImages(part: Float64Array, c: number, out: Float64Array): void {
  const n = part.length;
  for (let g = 0; g < 4; g++) {
    const sign = oddUnder(c, g) ? -1 : 1;
    for (let k = 0; k < n; k++) out[g * n + k] = out[g * n + k]! + sign * part[k]!;
  }
}
