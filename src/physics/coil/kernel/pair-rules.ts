import { poseMatrix } from '../nodes.ts';
import type { Pose, Winding } from '../types.ts';
import { filamentRule, type RuleSettings } from './filament-rule.ts';
import { type WindingExtent, windingExtent } from './local-distance.ts';
import type { Precision } from './neumann-code.ts';
import type { NeumannEngine } from './neumann-engine.ts';
import { moveTargets, neumannSum, nodeSource, type Source, type TargetRoom, targetRoom } from './node-blocks.ts';
import { ringAxis, ringPlanes } from './ring-rule.ts';
import { type TurnRun, turnRuns } from './turn-runs.ts';

export interface PairSide {
  readonly runs: readonly TurnRun[];
  readonly extent: WindingExtent;
}

/** Nodes of both windings, ready to be summed at any pose. */
export interface PairRule {
  readonly source: Source;
  readonly target: TargetRoom;
  /** Kernel evaluations of one sum. */
  readonly evaluations: number;
}

export interface RuleChoice {
  /** Step of the smallest distance: see `stepDistance`. */
  readonly step: number;
  /** The coils' planes face each other over that distance: layers behind them are farther away. */
  readonly facing: boolean;
  readonly effort: number;
  /** Below 1: a coarser rule to compare with. */
  readonly share: number;
}

export interface PairRules {
  readonly a: PairSide;
  readonly b: PairSide;
  /** One side is made of rings, which are summed whole. */
  readonly rings: boolean;
  rule(choice: RuleChoice): PairRule;
  /** Mutual inductance by a rule, H. */
  sum(rule: PairRule, pose: Pose, precision: Precision): number;
}

const MU0_4PI = 1e-7;
/** Distances are rounded down to these steps, so that neighbouring poses share their nodes. */
const STEPS_PER_OCTAVE = 8;
/** The two coils' nodes must not fall in step: their errors would add up where equal turns lie over each other. */
const EFFORT_SHARES = { a: 0.93, b: 1.07 } as const;
/** Turns are smoother than lines: the same error takes this much less effort. */
const TURN_RELIEF = 1.25;
/** How much of the distance of a farther layer counts: with some tilt it is a little less. */
const DEPTH_SHARE = 0.9;
const CACHE_SIZE = 96;

export function stepOf(distance: number): number {
  return Math.floor(STEPS_PER_OCTAVE * Math.log2(distance) + 1e-9);
}

/** Least distance of a step, m. */
export function stepDistance(step: number): number {
  return 2 ** (step / STEPS_PER_OCTAVE);
}

/** Makes and keeps the rules of a pair, and sums them. */
export function createPairRules(a: Winding, b: Winding, engine: NeumannEngine): PairRules {
  const sides = { a: side(a), b: side(b) };
  // Rings are summed in closed form, so they are the sources; then the pose is read the other way round.
  const swapped = sides.a.axis === null && sides.b.axis !== null;
  const [from, to] = swapped ? (['b', 'a'] as const) : (['a', 'b'] as const);
  const { axis } = sides[from];
  const known = new Map<string, PairRule>();

  const make = ({ step, facing, effort, share }: RuleChoice): PairRule => {
    const distance = stepDistance(step);
    const settings = (which: 'a' | 'b'): RuleSettings => ({
      distance: (run) => distance + (facing ? DEPTH_SHARE * depth(sides[which], run, which) : 0),
      lineEffort: EFFORT_SHARES[which] * effort,
      turnEffort: effort - TURN_RELIEF,
      share,
    });
    const { nodes } = filamentRule(sides[to].runs, settings(to));
    const source: Source = axis
      ? { kind: 'rings', planes: ringPlanes(sides[from].runs, settings(from)), axis }
      : nodeSource(filamentRule(sides[from].runs, settings(from)));
    const loose = source.kind === 'nodes' ? source.loose : null;
    const sources = source.planes.reduce((sum, plane) => sum + plane.block.count, loose?.count ?? 0);
    return { source, target: targetRoom(nodes, loose !== null), evaluations: sources * nodes.count };
  };

  return {
    a: sides.a,
    b: sides.b,
    rings: axis !== null,
    rule(choice) {
      const key = `${choice.step} ${choice.facing} ${choice.effort} ${choice.share}`;
      let rule = known.get(key);
      if (!rule) {
        rule = make(choice);
        if (known.size >= CACHE_SIZE) known.delete(known.keys().next().value as string);
        known.set(key, rule);
      }
      return rule;
    },
    sum({ source, target }, pose, precision) {
      const matrix = swapped ? inverseMotion(poseMatrix(pose)) : poseMatrix(pose);
      if (axis) {
        matrix[9]! -= axis.x;
        matrix[10]! -= axis.y;
      }
      moveTargets(target, matrix);
      return MU0_4PI * neumannSum(engine, source, target, precision);
    },
  };
}

function side(winding: Winding): PairSide & { readonly axis: { readonly x: number; readonly y: number } | null } {
  const runs = turnRuns(winding);
  return { runs, extent: windingExtent(runs), axis: ringAxis(runs) };
}

/** How far a run lies behind the plane of its winding that faces the other coil, m. */
function depth({ extent }: PairSide, run: TurnRun, which: 'a' | 'b'): number {
  return which === 'a' ? extent.high[2] - run.high : run.low - extent.low[2];
}

/** Inverse of the twelve numbers of a `poseMatrix`. */
function inverseMotion(m: Float64Array): Float64Array {
  const inverse = Float64Array.of(m[0]!, m[3]!, m[6]!, m[1]!, m[4]!, m[7]!, m[2]!, m[5]!, m[8]!, 0, 0, 0);
  for (let row = 0; row < 3; row++) {
    for (let k = 0; k < 3; k++) inverse[9 + row]! -= inverse[3 * row + k]! * m[9 + k]!;
  }
  return inverse;
}
