import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { batchMaxOutput, maxOutputBatch } from '../../physics/circuit/batch-max-output.ts';
import { maxOutput } from '../../physics/circuit/max-output.ts';
import type { Boards, LinkElectrical } from '../../physics/circuit/types.ts';
import { sidesOfDesign } from '../link/link-context.ts';
import { chargesCell } from '../margin/pose-answer.ts';
import type { Bench } from './bench.ts';
import { type BenchLink, type BenchPose, benchPose, shiftedLink } from './bench-links.ts';
import { type BenchState, stateAt } from './bench-state.ts';

/** Nodes of a line, its beginning on the axis included. */
const NODES = 7;

/** Places along +x and +y at the design's gap at which the link is solved, so that any set of fitted values has its reach in a moment. */
export function reachPoses(design: Design): { readonly x: BenchPose[]; readonly y: BenchPose[] } {
  const { transmitter, receiver } = sidesOfDesign(design);
  const spanX = 1e3 * Math.max(transmitter.winding.halfWidth, receiver.winding.halfWidth);
  const spanY = 1e3 * Math.max(transmitter.winding.halfHeight, receiver.winding.halfHeight);
  const { gapMm } = design.placement;
  const along = (span: number) => Array.from({ length: NODES }, (_, k) => (span * k) / (NODES - 1));
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

/** The link at an offset of the line under a state: interpolated between the nodes. */
export function linkOnLine(line: ReachLine, state: BenchState, atMm: number): LinkElectrical {
  const weights = weightsAt(line, atMm);
  const nodes = line.links.map((link) => shiftedLink(link, state.gapShift, 0, state.scales));
  const mix = (key: 'l1' | 'l2' | 'm'): number => nodes.reduce((sum, node, i) => sum + weights[i] * node[key], 0);
  const nearest =
    nodes[line.atMm.reduce((best, at, i) => (Math.abs(at - atMm) < Math.abs(line.atMm[best] - atMm) ? i : best), 0)];
  return { ...nearest, l1: mix('l1'), l2: mix('l2'), m: mix('m') };
}

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

/**
 * Exact over quick largest current at each node of a line, for one state; 1 where either is nothing. Worked out at every second node: it
 * changes slowly.
 */
export function lineRatios(bench: Bench, line: ReachLine, rules: ReachRules, z: Float64Array): number[] {
  const state = stateAt(rules.boards, bench.parameters, z);
  const at = (link: BenchLink): number => {
    const electrical = shiftedLink(link, state.gapShift, 0, state.scales);
    const quick = quickMargin(electrical, state.boards, rules);
    const exact = maxOutput(electrical, state.boards, { charging: rules.charging }).current;
    return quick > 0.02 && exact > 0.02 ? exact / quick : 1;
  };
  const last = line.links.length - 1;
  const known = line.links.map((link, i) => (i % 2 === 0 || i === last ? at(link) : 0));
  return known.map((ratio, i) => (i % 2 === 0 || i === last ? ratio : (known[i - 1] + known[i + 1]) / 2));
}

/** Largest current along a line for a state, A. */
export function currentOnLine(
  line: ReachLine,
  state: BenchState,
  rules: ReachRules,
  ratios: readonly number[],
  atMm: number,
): number {
  const step = line.atMm[1];
  const place = Math.min(line.atMm.length - 2, Math.floor(atMm / step));
  const u = atMm / step - place;
  const ratio = ratios[place] * (1 - u) + ratios[place + 1] * u;
  return ratio * quickMargin(linkOnLine(line, state, atMm), state.boards, rules);
}

/** Steps in which a line is walked before the crossing is narrowed. */
const WALK = 8;
const HALVINGS = 7;

/**
 * Offset up to which the wanted margin holds along a line, mm: 0 where it does not hold on the axis, the line's end where it holds
 * throughout. By margin alone: whether the receiver wakes there is for the map to say.
 */
export function reachOnLine(line: ReachLine, state: BenchState, rules: ReachRules, ratios: readonly number[]): number {
  const end = line.atMm[line.atMm.length - 1];
  const holds = (atMm: number): boolean => currentOnLine(line, state, rules, ratios, atMm) >= rules.wantedA;
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

/** Smallest reach over the lines, mm. */
export function reachOf(
  lines: readonly ReachLine[],
  state: BenchState,
  rules: ReachRules,
  ratios: readonly (readonly number[])[],
): number {
  return Math.min(...lines.map((line, i) => reachOnLine(line, state, rules, ratios[i])));
}
