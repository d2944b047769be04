import { filamentRule } from '../coil/kernel/filament-rule.ts';
import { type TurnRun, turnRuns } from '../coil/kernel/turn-runs.ts';
import { turnsNodes } from '../coil/nodes.ts';
import type { FilamentNodes, Winding } from '../coil/types.ts';
import { type PanelSet, panelPoints } from './panel-set.ts';

/**
 * Scalar magnetic potential per ampere (1): the solid angle of every turn over 4 pi, H = -grad.
 *
 * @param nodes of the winding, in a frame whose z is the coil's axis, its mid-plane at z = 0
 * @returns positive above the winding (z > 0), negative below
 * Valid outside the flat hull of the winding, whose turns' discs are the cut of the potential; beside the winding it is
 * continuous through z = 0. No check is made.
 * Method: solid angle as a line integral about the axis through the point, (rho x dl) / (r (r + d)): regular wherever
 * the point lies off the wire, so it converges with the nodes as their rule does.
 * Source: vector potential of a monopole, its string turned away from the winding (P. Dirac 1931, from memory);
 * checked against the closed solid angle of a polygon and the on-axis loop in tests.
 */
export function windingPotential(nodes: FilamentNodes, x: number, y: number, z: number): number {
  const { count, x: nx, y: ny, z: nz, dx, dy } = nodes;
  const side = z < 0 ? -1 : 1;
  let sum = 0;
  for (let k = 0; k < count; k++) {
    const rx = nx[k]! - x;
    const ry = ny[k]! - y;
    const d = side * (z - nz[k]!);
    const r = Math.sqrt(rx * rx + ry * ry + d * d);
    sum += (rx * dy[k]! - ry * dx[k]!) / (r * (r + d));
  }
  return (side * sum) / (4 * Math.PI);
}

/** Errors exp(-effort) along the wire and over the turns, at the nearest point of the nearest turn; less in the mean. */
const LINE_EFFORT = 8;
const TURN_EFFORT = 7.5;

/** Nodes of one winding at geometrically growing spacings, made on demand. */
export class NodeLadder {
  readonly winding: Winding;
  readonly #rungs = new Map<number, FilamentNodes>();
  readonly #runs: readonly TurnRun[];
  readonly #far = new Map<number, FilamentNodes>();
  constructor(winding: Winding) {
    this.winding = winding;
    this.#runs = turnRuns(winding);
  }
  /** The fewest nodes that serve at a distance from the wire (m) and beyond, turns lumped by a Gauss rule. */
  beyond(distance: number): FilamentNodes {
    const rung = Math.floor(4 * Math.log2(distance / 1e-5));
    let nodes = this.#far.get(rung);
    if (!nodes) {
      const least = 1e-5 * 2 ** (rung / 4);
      const rule = { distance: () => least, lineEffort: LINE_EFFORT, turnEffort: TURN_EFFORT, share: 1 };
      nodes = filamentRule(this.#runs, rule).nodes;
      this.#far.set(rung, nodes);
    }
    return nodes;
  }
  /** Nodes no farther apart than `spacing` (m), and at least 0.7 of it. */
  at(spacing: number): FilamentNodes {
    const rung = Math.floor(2 * Math.log2(spacing / 1e-5));
    let nodes = this.#rungs.get(rung);
    if (!nodes) {
      nodes = turnsNodes(this.winding.turns, 1e-5 * 2 ** (rung / 2));
      this.#rungs.set(rung, nodes);
    }
    return nodes;
  }
}

/** Node spacing over distance from the wire: trapezoid error exp(-2 pi / 0.5) = 3e-6. */
const SPACING = 0.5;
const points = new Float64Array(4 * 144);

/**
 * Mean potential of a winding on each panel, per ampere.
 *
 * @param panels in the coil's frame, outside the winding's hull, image by image under the mirrors x and y (four images)
 * @param out [panels.count], written and returned
 * Gauss order and node spacing follow each panel's distance from the wire; relative accuracy about 1e-5.
 * Rings about the axis are worked out on one image: mirrored twice over they are what they were.
 */
export function windingOnPanels(ladder: NodeLadder, panels: PanelSet, out: Float64Array): Float64Array {
  const { winding } = ladder;
  const coarse = ladder.at(Math.max(winding.halfWidth, winding.halfHeight) / 20);
  const slack = Math.max(winding.halfWidth, winding.halfHeight) / 40;
  const members = panels.count / 4;
  const mirrored = isMirrored(winding);
  for (let p = 0; p < (mirrored ? members : panels.count); p++) {
    const size = panels.size[p]!;
    const distance = Math.max(wireDistance(coarse, panels, p) - 0.6 * size - slack, panelGap(panels, p, winding), 2e-5);
    const order = Math.min(12, Math.max(2, Math.ceil(0.7 + (1.5 * size) / distance)));
    out[p] = meanWindingPotential(ladder.at(SPACING * distance), panels, p, order);
  }
  if (mirrored) for (let g = 1; g < 4; g++) out.copyWithin(g * members, 0, members);
  return out;
}

/** Whether a winding is its own image under x -> -x and under y -> -y. */
export function isMirrored({ spec }: Winding): boolean {
  return spec.winding === 'rings' && spec.outline.shape !== 'path';
}

/**
 * The same for panels that keep a distance from the wire: fewer nodes, chosen panel by panel.
 *
 * @param distance that no panel goes below, m
 */
export function farWindingOnPanels(
  ladder: NodeLadder,
  panels: PanelSet,
  distance: number,
  out: Float64Array,
): Float64Array {
  const { winding } = ladder;
  const spacing = Math.max(winding.halfWidth, winding.halfHeight) / 4;
  const coarse = ladder.at(spacing);
  for (let p = 0; p < panels.count; p++) {
    const size = panels.size[p]!;
    const clear = Math.max(distance, wireDistance(coarse, panels, p) - 0.7 * size - spacing / 2);
    const order = size < 0.03 * clear ? 1 : size < 1.2 * clear ? 2 : 3;
    out[p] = meanWindingPotential(ladder.beyond(clear), panels, p, order);
  }
  return out;
}

function meanWindingPotential(nodes: FilamentNodes, panels: PanelSet, p: number, order: number): number {
  panelPoints(panels, p, order, points);
  let sum = 0;
  for (let i = 0; i < 4 * order * order; i += 4) {
    sum += points[i + 3]! * windingPotential(nodes, points[i]!, points[i + 1]!, points[i + 2]!);
  }
  return sum;
}

/** From the panel's centre to the nearest node. */
function wireDistance(nodes: FilamentNodes, panels: PanelSet, p: number): number {
  const x = panels.centre[3 * p]!;
  const y = panels.centre[3 * p + 1]!;
  const z = panels.centre[3 * p + 2]!;
  let nearest = Infinity;
  for (let k = 0; k < nodes.count; k++) {
    const rx = nodes.x[k]! - x;
    const ry = nodes.y[k]! - y;
    const rz = nodes.z[k]! - z;
    const r2 = rx * rx + ry * ry + rz * rz;
    if (r2 < nearest) nearest = r2;
  }
  return Math.sqrt(nearest);
}

/** Height of the panel's nearest corner over (or depth under) the outermost layer's centre lines; negative between. */
function panelGap(panels: PanelSet, p: number, winding: Winding): number {
  let low = Infinity;
  let high = -Infinity;
  for (let k = 0; k < 4; k++) {
    low = Math.min(low, panels.corner[12 * p + 3 * k + 2]!);
    high = Math.max(high, panels.corner[12 * p + 3 * k + 2]!);
  }
  let top = -Infinity;
  let bottom = Infinity;
  for (const turn of winding.turns) {
    top = Math.max(top, turn.z);
    bottom = Math.min(bottom, turn.z);
  }
  return Math.max(low - top, bottom - high);
}
