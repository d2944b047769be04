import { dotProduct } from '../../numerics/dense.ts';
import { ConvergenceError } from '../../numerics/errors.ts';
import { gmres } from '../../numerics/gmres.ts';
import { singleMatrix } from '../../numerics/single-matrix.ts';
import { listenerKernel } from './listener-kernel.ts';
import { allocatePanels, type PanelSet, transformPanels } from './panel-set.ts';
import { CLASSES, classPart, type SideNetwork } from './side-network.ts';
import type { Skeleton } from './skeleton.ts';
import { farWindingOnPanels, type NodeLadder } from './winding-potential.ts';

/** A side with its network and coil, as the solver needs it. */
export interface LinkEnd {
  readonly network: SideNetwork;
  readonly ladder: NodeLadder;
}

/** What the far side causes on each side, per ampere in coil 1 and in coil 2. */
export interface LinkSolution {
  /** [source coil][side]: potentials on the side's skeleton, image by image. */
  readonly incident: readonly [readonly [Float64Array, Float64Array], readonly [Float64Array, Float64Array]];
  /** Changes of L1, L2 and M over mu0, m. */
  readonly change1: number;
  readonly change2: number;
  readonly changeMutual: number;
  readonly evaluations: number;
}

/** Panels moved to the other frame, kept between calls. */
const moved = new WeakMap<PanelSet, PanelSet>();

function movedPanels(panels: PanelSet, matrix: Float64Array): PanelSet {
  let out = moved.get(panels);
  if (!out) {
    out = allocatePanels(panels.count);
    moved.set(panels, out);
  }
  return transformPanels(panels, matrix, out);
}

/** Inverse of a pose matrix (see coil `poseMatrix`). */
export function inverseMotion(m: Float64Array): Float64Array {
  const out = new Float64Array(12);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) out[3 * i + j] = m[3 * j + i]!;
    out[9 + i] = -(m[i]! * m[9]! + m[3 + i]! * m[10]! + m[6 + i]! * m[11]!);
  }
  return out;
}

/**
 * Solves both sides together at one pose for a unit current in each coil.
 *
 * @param matrix pose matrix of end 2 in the frame of end 1
 * @param distances least height of end 1's panels over coil 2's wire and of end 2's over coil 1's, m
 * @param tolerance relative residual of the iteration
 */
export function solveLink(
  end1: LinkEnd,
  end2: LinkEnd,
  matrix: Float64Array,
  distances: readonly [number, number],
  tolerance: number,
): LinkSolution {
  const a = end1.network;
  const b = end2.network;
  const n1 = 4 * a.quarter;
  const n2 = 4 * b.quarter;
  const there = movedPanels(b.skeleton.panels, matrix);
  const back = movedPanels(a.skeleton.panels, inverseMotion(matrix));
  const from2 = windingOnListeners(end2.ladder, back, a.skeleton, distances[0]);
  const from1 = windingOnListeners(end1.ladder, there, b.skeleton, distances[1]);
  // Six digits of the kernel are three more than the answer has.
  const kernel = singleMatrix(listenerKernel(a.skeleton, b.skeleton, there, roomFor(n1 * n2)), n1, n2);
  const w1 = new Float64Array(n1);
  const g1 = new Float64Array(n1);
  const g2 = new Float64Array(n2);
  const toSide1 = (charges: Float64Array, out: Float64Array) => kernel.multiply(charges, out);
  const toSide2 = (charges: Float64Array, out: Float64Array) => kernel.multiplyTransposed(charges, out);
  // psi2 = b2 + K21 (-Gamma1) psi1, psi1 = a1 - K12 Gamma2 psi2.
  const apply = (psi2: Float64Array, out: Float64Array) => {
    toSide1(scatter(b, psi2, g2), w1);
    toSide2(scatter(a, w1, g1), out);
    for (let i = 0; i < n2; i++) out[i] = psi2[i]! - out[i]!;
  };
  let evaluations = 0;
  const solve = (onSide1: Float64Array, onSide2: Float64Array): [Float64Array, Float64Array] => {
    const right = new Float64Array(n2);
    toSide2(scatter(a, onSide1, g1), right);
    for (let i = 0; i < n2; i++) right[i] = onSide2[i]! - right[i]!;
    const psi2 = new Float64Array(n2);
    const outcome = gmres(apply, right, psi2, tolerance, 40);
    if (!outcome.converged) {
      throw new ConvergenceError('link-solver', 'The two sides did not settle.', { residual: outcome.residual });
    }
    evaluations += outcome.evaluations;
    const psi1 = new Float64Array(n1);
    toSide1(scatter(b, psi2, g2), psi1);
    for (let i = 0; i < n1; i++) psi1[i] = onSide1[i]! - psi1[i]!;
    return [psi1, psi2];
  };
  const start2 = new Float64Array(n2);
  toSide2(a.own, start2);
  for (let i = 0; i < n2; i++) start2[i] = start2[i]! + from1[i]!;
  const start1 = new Float64Array(n1);
  toSide1(b.own, start1);
  for (let i = 0; i < n1; i++) start1[i] = start1[i]! + from2[i]!;
  const one = solve(new Float64Array(n1), start2);
  const two = solve(start1, new Float64Array(n2));
  // Flux in a coil: its own side answers the incident potentials, the far side scatters the coil's bare ones.
  const change1 = a.self - dotProduct(a.own, one[0]) + dotProduct(from1, scatter(b, one[1], g2));
  const change2 = b.self - dotProduct(b.own, two[1]) + dotProduct(from2, scatter(a, two[0], g1));
  const forward = -dotProduct(b.own, one[1]) + dotProduct(from2, scatter(a, one[0], g1)) - dotProduct(from2, a.own);
  const backward = -dotProduct(a.own, two[0]) + dotProduct(from1, scatter(b, two[1], g2)) - dotProduct(from1, b.own);
  return { incident: [one, two], change1, change2, changeMutual: (forward + backward) / 2, evaluations };
}

function windingOnListeners(ladder: NodeLadder, panels: PanelSet, skeleton: Skeleton, distance: number): Float64Array {
  const raw = farWindingOnPanels(ladder, panels, distance, new Float64Array(panels.count));
  const { second, weight } = skeleton;
  return Float64Array.from(second, (other, k) => weight[k]! * (raw[k]! - (other < 0 ? 0 : raw[other]!)));
}

let room = new Float64Array(0);

/** Room kept between calls, of at least this length. */
function roomFor(length: number): Float64Array {
  if (room.length < length) room = new Float64Array(length);
  return room;
}

const scratch = { size: 0, part: new Float64Array(0) };

/** Minus the equivalent charges that incident potentials leave on a skeleton: out = Gamma psi. */
function scatter(network: SideNetwork, psi: Float64Array, out: Float64Array): Float64Array {
  const m = network.quarter;
  const width = m + 1;
  if (scratch.size < m) {
    scratch.size = m;
    scratch.part = new Float64Array(m);
  }
  const { part } = scratch;
  out.fill(0);
  for (let c = 0; c < CLASSES; c++) {
    for (let k = 0; k < m; k++) {
      const p = psi[k]!;
      const q = psi[m + k]!;
      const r = psi[2 * m + k]!;
      const s = psi[3 * m + k]!;
      part[k] = 0.25 * (p + (c & 1 ? -q : q) + (c & 2 ? -r : r) + ((c ^ (c >> 1)) & 1 ? -s : s));
    }
    const response = network.response[c]!;
    for (let i = 0; i < m; i++) {
      let s0 = 0;
      let s1 = 0;
      const row = i * width;
      let j = 0;
      for (; j + 1 < m; j += 2) {
        s0 += response[row + j]! * part[j]!;
        s1 += response[row + j + 1]! * part[j + 1]!;
      }
      if (j < m) s0 += response[row + j]! * part[j]!;
      const v = s0 + s1;
      out[i] = out[i]! + v;
      out[m + i] = out[m + i]! + (c & 1 ? -v : v);
      out[2 * m + i] = out[2 * m + i]! + (c & 2 ? -v : v);
      out[3 * m + i] = out[3 * m + i]! + ((c ^ (c >> 1)) & 1 ? -v : v);
    }
  }
  return out;
}

/** Incident vectors of the four classes: potentials on the skeleton, then the own current. */
export function incidentClasses(network: SideNetwork, psi: Float64Array, ownCurrent: number): Float64Array[] {
  const m = network.quarter;
  return [0, 1, 2, 3].map((c) => {
    const out = new Float64Array(m + 1);
    out.set(classPart(psi, m, c));
    out[m] = ownCurrent;
    return out;
  });
}

/** Quadratic form of one of a network's class matrices between two sets of incident vectors. */
export function classForm(
  blocks: readonly Float64Array[],
  left: readonly Float64Array[],
  right: readonly Float64Array[],
): number {
  let sum = 0;
  for (const [c, block] of blocks.entries()) {
    const l = left[c]!;
    const r = right[c]!;
    const n = l.length;
    if (block.length === 0) continue;
    for (let i = 0; i < n; i++) {
      let row = 0;
      for (let j = 0; j < n; j++) row += block[i * n + j]! * r[j]!;
      sum += l[i]! * row;
    }
  }
  return CLASSES * sum;
}
