import { filamentRule } from '../coil/kernel/filament-rule.ts';
import { type TurnRun, turnRuns } from '../coil/kernel/turn-runs.ts';
import { isMirrored } from '../coil/mirrored.ts';
import { turnsNodes } from '../coil/nodes.ts';
import { turnLength } from '../coil/turn-polyline.ts';
import type { FilamentNodes, Winding } from '../coil/types.ts';
import { type PanelSet, panelPoints } from './panel-set.ts';
import { createScalarPotential, createSimdPotential, type PotentialEngine } from './potential-engine.ts';

/** Errors exp(-effort) along the wire and over the turns, at the nearest point of the nearest turn; less in the mean. */
const LINE_EFFORT = 8;
const TURN_EFFORT = 7.5;

/**
 * Most nodes of a rung. A long wire that all but touches its plate would ask for millions; coarser nodes leave ripples
 * along the wire, which a panel's mean evens out (tests/physics/field/winding-potential).
 */
const MOST_NODES = 8192;
/** Most nodes that are made to find out that there are too many. */
const MOST_TRIED = 300_000;

/** Nodes of a rung, and their place in the ladder's engine. */
interface Rung {
  readonly nodes: FilamentNodes;
  readonly handle: number;
}

/** Nodes of one winding at geometrically growing spacings, made on demand. */
export class NodeLadder {
  readonly winding: Winding;
  readonly #engine: PotentialEngine = createSimdPotential() ?? createScalarPotential();
  readonly #rungs = new Map<number, Rung>();
  readonly #far = new Map<number, Rung>();
  readonly #runs: readonly TurnRun[];
  readonly #length: number;
  constructor(winding: Winding) {
    this.winding = winding;
    this.#length = winding.turns.reduce((sum, turn) => sum + turnLength(turn), 0);
    this.#runs = turnRuns(winding);
  }
  /** The fewest nodes that serve at a distance from the wire (m) and beyond, turns lumped by a Gauss rule. */
  beyond(distance: number): Rung {
    const rung = Math.floor(4 * Math.log2(Math.max(distance, this.#length / MOST_TRIED) / 1e-5));
    return this.#obtain(this.#far, rung, () => {
      const nodesFor = (least: number): FilamentNodes => {
        const rule = { distance: () => least, lineEffort: LINE_EFFORT, turnEffort: TURN_EFFORT, share: 1 };
        return filamentRule(this.#runs, rule).nodes;
      };
      let least = 1e-5 * 2 ** (rung / 4);
      let nodes = nodesFor(least);
      // A path of very many short pieces keeps some nodes on each, however far away.
      for (let k = 0; k < 8 && nodes.count > MOST_NODES; k++) {
        least *= Math.max(1.2, 0.9 * (nodes.count / MOST_NODES));
        nodes = nodesFor(least);
      }
      return nodes;
    });
  }
  /** Nodes no farther apart than `spacing` (m), and at least 0.7 of it. */
  at(spacing: number): Rung {
    const rung = Math.floor(2 * Math.log2(Math.max(spacing, this.#length / MOST_NODES) / 1e-5));
    return this.#obtain(this.#rungs, rung, () => turnsNodes(this.winding.turns, 1e-5 * 2 ** (rung / 2)));
  }
  /** Mean potential on panel p by order x order points. */
  meanPotential({ handle }: Rung, panels: PanelSet, p: number, order: number): number {
    panelPoints(panels, p, order, points);
    return this.#engine.sum(handle, points, order * order);
  }

  #obtain(rungs: Map<number, Rung>, rung: number, make: () => FilamentNodes): Rung {
    let found = rungs.get(rung);
    if (!found) {
      const nodes = make();
      found = { nodes, handle: this.#engine.hold(nodes) };
      rungs.set(rung, found);
    }
    return found;
  }
}

/** Node spacing over distance from the wire: trapezoid error exp(-2 pi / 0.5) = 3e-6. */
const SPACING = 0.5;
/** The same at exp(-2 pi / 0.9) = 1e-3. */
const ROUGH_SPACING = 0.9;
const points = new Float64Array(4 * 144);

/**
 * Mean potential of a winding on each panel, per ampere.
 *
 * @param panels in the coil's frame, outside the winding's hull, image by image under the mirrors x and y (four images)
 * @param out [panels.count], written and returned
 * @param rough for the rough grid, whose cells err by a hundred times more anyway
 * Gauss order and node spacing follow each panel's distance from the wire; relative accuracy about 1e-5, rough 1e-3.
 * Rings about the axis are worked out on one image: mirrored twice over they are what they were.
 */
export function windingOnPanels(ladder: NodeLadder, panels: PanelSet, out: Float64Array, rough = false): Float64Array {
  const { winding } = ladder;
  const { nodes: coarse } = ladder.at(Math.max(winding.halfWidth, winding.halfHeight) / 20);
  const slack = Math.max(winding.halfWidth, winding.halfHeight) / 40;
  const members = panels.count / 4;
  const mirrored = isMirrored(winding);
  for (let p = 0; p < (mirrored ? members : panels.count); p++) {
    const size = panels.size[p]!;
    const distance = Math.max(wireDistance(coarse, panels, p) - 0.6 * size - slack, panelGap(panels, p, winding), 2e-5);
    const order = Math.min(12, Math.max(2, Math.ceil(0.7 + ((rough ? 0.7 : 1.5) * size) / distance)));
    out[p] = ladder.meanPotential(ladder.at((rough ? ROUGH_SPACING : SPACING) * distance), panels, p, order);
  }
  if (mirrored) for (let g = 1; g < 4; g++) out.copyWithin(g * members, 0, members);
  return out;
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
  const { nodes: coarse } = ladder.at(spacing);
  for (let p = 0; p < panels.count; p++) {
    const size = panels.size[p]!;
    const clear = Math.max(distance, wireDistance(coarse, panels, p) - 0.7 * size - spacing / 2);
    const order = size < 0.03 * clear ? 1 : size < 1.2 * clear ? 2 : 3;
    out[p] = ladder.meanPotential(ladder.beyond(clear), panels, p, order);
  }
  return out;
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
