import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { batchMaxOutput, maxOutputBatch } from '../../physics/circuit/batch-max-output.ts';
import type { Boards, LinkElectrical, ResistanceLaw } from '../../physics/circuit/types.ts';
import { sidesOfDesign } from '../link/link-context.ts';
import { chargesCell } from '../margin/pose-answer.ts';
import { type BenchLink, type BenchPose, benchPose, shiftedLink } from './bench-links.ts';
import type { BenchState } from './bench-state.ts';

/** Nodes of a line, its beginning on the axis included. */
const NODES = 6;

/**
 * Places along +x and +y at the design's gap at which the link is solved, so that any set of fitted values has its reach in a moment.
 * Chebyshev's in the square of the offset, in which L1, L2 and M are smooth: evenly spaced ones are thirty times worse.
 */
export function reachPoses(design: Design): { readonly x: BenchPose[]; readonly y: BenchPose[] } {
  const { transmitter, receiver } = sidesOfDesign(design);
  const spanX = 1e3 * Math.max(transmitter.winding.halfWidth, receiver.winding.halfWidth);
  const spanY = 1e3 * Math.max(transmitter.winding.halfHeight, receiver.winding.halfHeight);
  const { gapMm } = design.placement;
  const along = (span: number) =>
    Array.from({ length: NODES }, (_, k) => span * Math.sin((Math.PI * k) / (2 * (NODES - 1))));
  return {
    x: along(spanX).map((at) => benchPose(gapMm, at, 0)),
    y: along(spanY).map((at) => benchPose(gapMm, 0, at)),
  };
}

/** One line: offsets (mm, from 0) with the link at each. */
export interface ReachLine {
  readonly axis: 'x' | 'y';
  readonly atMm: readonly number[];
  readonly links: readonly BenchLink[];
}

/** What the design asks of the link, and how the largest current is judged, for reach and margin. */
export interface ReachRules {
  readonly boards: Boards;
  readonly demandA: number;
  readonly wantedA: number;
  readonly charging: boolean;
}

export function reachRules(design: Design): ReachRules {
  const demand = demandOf(design);
  return {
    boards: boardsOf(design),
    demandA: demand.demandA,
    wantedA: demand.demandA * (1 + design.demand.wantedMarginPercent / 100),
    charging: chargesCell(design, demand),
  };
}

/** Weights of Lagrange's polynomial through the line's nodes in the square of the offset, for an even quantity. */
function weightsAt(line: ReachLine, atMm: number): number[] {
  const x = line.atMm.map((value) => value * value);
  const here = atMm * atMm;
  return x.map((node, i) =>
    x.reduce((product, other, j) => (j === i ? product : (product * (here - other)) / (node - other)), 1),
  );
}

/** The link anywhere on a line under one state. Accuracy: L1, L2 and M within 5e-4 of their centred values (tests). */
export function linkOnLine(line: ReachLine, state: BenchState): (atMm: number) => LinkElectrical {
  const nodes = line.links.map((link) => shiftedLink(link, state.gapShift, 0, state.scales));
  return (atMm) => {
    const weights = weightsAt(line, atMm);
    const mix = (of: (node: LinkElectrical) => number): number =>
      nodes.reduce((sum, node, i) => sum + weights[i] * of(node), 0);
    const law = (side: 'r1' | 'r2'): ResistanceLaw => ({
      dc: mix((node) => node[side].dc),
      linear: mix((node) => node[side].linear),
      quadratic: mix((node) => node[side].quadratic),
      quartic: mix((node) => node[side].quartic),
    });
    return { l1: mix(({ l1 }) => l1), l2: mix(({ l2 }) => l2), m: mix(({ m }) => m), r1: law('r1'), r2: law('r2') };
  };
}

export const lineEnd = (line: ReachLine): number => line.atMm[line.atMm.length - 1];

const most = maxOutputBatch(1);

/** Largest current by first harmonic, heat limits as in the margin, A. */
export function quickMargin(link: LinkElectrical, boards: Boards, rules: ReachRules): number {
  const batch = {
    l1: Float64Array.of(link.l1),
    l2: Float64Array.of(link.l2),
    m: Float64Array.of(link.m),
    r1: link.r1,
    r2: link.r2,
  };
  return batchMaxOutput(batch, boards, most, { charging: rules.charging }).current[0];
}

/** Steps in which a line is walked before the crossing is narrowed. */
export const WALK = 8;
const HALVINGS = 7;

/**
 * Offset up to which a current holds along a line by first harmonic, mm: 0 where it does not hold on the axis, the line's end where it
 * holds throughout. By margin alone: whether the receiver wakes there is for the map to say.
 */
export function reachOnLine(line: ReachLine, state: BenchState, rules: ReachRules, wantedA = rules.wantedA): number {
  const end = lineEnd(line);
  const linkAt = linkOnLine(line, state);
  const holds = (atMm: number): boolean => quickMargin(linkAt(atMm), state.boards, rules) >= wantedA;
  let inside = 0;
  if (!holds(0)) return 0;
  for (let k = 1; k <= WALK; k++) {
    const at = (end * k) / WALK;
    if (holds(at)) {
      inside = at;
      continue;
    }
    let outside = at;
    for (let i = 0; i < HALVINGS; i++) {
      const middle = (inside + outside) / 2;
      if (holds(middle)) inside = middle;
      else outside = middle;
    }
    return (inside + outside) / 2;
  }
  return end;
}

/** Smallest reach over the lines, mm, by first harmonic. */
export function reachOf(
  lines: readonly ReachLine[],
  state: BenchState,
  rules: ReachRules,
  wantedA = rules.wantedA,
): number {
  return Math.min(...lines.map((line) => reachOnLine(line, state, rules, wantedA)));
}
