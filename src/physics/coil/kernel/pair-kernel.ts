import { ConvergenceError } from '../../../numerics/errors.ts';
import type { Estimate } from '../../../numerics/estimate.ts';
import { poseMatrix } from '../nodes.ts';
import type { Pose, Winding } from '../types.ts';
import { filamentRule, type RuleSettings } from './filament-rule.ts';
import { localDistance, type WindingExtent, windingExtent, wireDistance } from './local-distance.ts';
import type { Precision } from './neumann-code.ts';
import { type NeumannEngine, neumannEngine } from './neumann-engine.ts';
import { moveTargets, neumannSum, nodeSource, type Source, type TargetRoom, targetRoom } from './node-blocks.ts';
import { ringAxis, ringPlanes } from './ring-rule.ts';
import { type TurnRun, turnRuns } from './turn-runs.ts';

export interface PairKernelOptions {
  /** Error aimed at, as a share of the mutual inductance of the same pair centred at the same distance. */
  readonly tolerance: number;
  /** Null: the fastest of this machine. */
  readonly engine: NeumannEngine | null;
}

export const pairKernelDefaults: PairKernelOptions = Object.freeze({ tolerance: 1e-4, engine: null });

/** Options of the reference mode. */
export const referenceKernelOptions: PairKernelOptions = Object.freeze({ tolerance: 1e-9, engine: null });

/** Mutual inductance of two windings in air, pose by pose. */
export interface PairKernel {
  /**
   * @returns H; `errorEstimate` from comparing with two coarser rules at this pose; `evaluations` of 1/distance.
   * @throws ConvergenceError where the tolerance cannot be had: wires that touch or cross
   */
  mutual(pose: Pose): Estimate;
  /** Mutual inductance of the pair centred and parallel at this distance (rough): what the tolerance is a share of, H. */
  scale(pose: Pose): number;
}

/** A rule for both windings and the two coarser ones it is compared with. */
interface RuleSet {
  readonly levels: readonly { readonly source: Source; readonly target: TargetRoom }[];
  readonly evaluations: number;
  readonly precision: Precision;
}

const MU0_4PI = 1e-7;
/** Distances are rounded down to these steps, so that neighbouring poses share their nodes. */
const STEPS_PER_OCTAVE = 8;
/** Shares of the node counts in the rules compared with. */
const COARSE_SHARES = [0.72, 0.62] as const;
/**
 * A rule with a share s of the nodes errs by about exp(s effort) / exp(effort) more. The estimate takes this fraction of
 * that gain for granted ...
 */
const TRUSTED_GAIN = 0.8;
const SAFETY = 0.7;
/** ... and adds this part of exp(-effort) against differences that are small by chance. How often it holds: README. */
const FLOOR = 0.01;
/** The two coils' nodes must not fall in step: their errors would add up where equal turns lie over each other. */
const EFFORT_SHARES = { a: 0.93, b: 1.07 } as const;
/** Turns are smoother than lines: the same error takes this much less effort. */
const TURN_RELIEF = 1.25;
const FIRST_EFFORT_OFFSET = -3.6;
/** How much of the distance of a farther layer counts: with some tilt it is a little less. */
const DEPTH_SHARE = 0.9;
const EFFORT_STEP = 1.2;
const MOST_EFFORT = 36;
/** A first try that costs less than this is made finer: time goes elsewhere then. */
const FREE_EVALUATIONS = 25_000;
/** ... up to this multiple of the first effort. */
const FREE_EFFORTS = 1.6;
/** Time of a whole ring against one node, single precision. */
const RING_COST = 8;
/** Rounding of single precision: as a share of the sum of absolute terms for nodes, of the scale for rings. */
const SINGLE_ROUNDING = 2e-9;
const SINGLE_RING_ROUNDING = 1e-6;
/** Boxes nearer than this share of the smaller coil's half-width: look at the wires. */
const CLOSE_SHARE = 0.02;
/** More is not spent on one pose: about a second. */
const MOST_EVALUATIONS = 1e9;
const MOST_NODES = 2e5;
/** Below this no rule is tried, m. */
const LEAST_DISTANCE = 2e-5;
const CACHE_SIZE = 32;

/**
 * Prepares a pair of windings.
 *
 * @param a transmitter, in whose frame poses are given; @param b receiver
 * Method: Neumann's double integral over Gauss and trapezoid nodes along the wires, a Gauss rule for the discrete sum
 * over the turns, and the WASM kernel over all node pairs. The node density follows from the smallest distance between
 * the coils at the pose. Every value is compared with two coarser rules; if the difference is too large the effort rises.
 * Accuracy and time: README.md. Results depend on the pose alone, not on what was asked before.
 */
export function createPairKernel(
  a: Winding,
  b: Winding,
  options: Partial<PairKernelOptions> = pairKernelDefaults,
): PairKernel {
  const { tolerance } = { ...pairKernelDefaults, ...options };
  const engine = options.engine ?? neumannEngine();
  const sides = { a: side(a), b: side(b) };
  // Rings are summed in closed form, so they are the sources; then the pose is read the other way round.
  const swapped = sides.a.axis === null && sides.b.axis !== null;
  const sourceSide = swapped ? 'b' : 'a';
  const targetSide = swapped ? 'a' : 'b';
  const startEffort = Math.max(4, FIRST_EFFORT_OFFSET - Math.log(tolerance));
  const size = Math.min(Math.max(a.halfWidth, a.halfHeight), Math.max(b.halfWidth, b.halfHeight));
  const rules = new Map<string, RuleSet>();
  const scales = new Map<number, number>();

  const ruleSet = (step: number, facing: boolean, effort: number, precision: Precision): RuleSet => {
    const key = `${step} ${facing} ${effort} ${precision}`;
    const known = rules.get(key);
    if (known) return known;
    const levels = [1, ...COARSE_SHARES].map((share) => {
      const settings = (which: 'a' | 'b'): RuleSettings => ({
        distance: (run) => stepDistance(step) + (facing ? DEPTH_SHARE * sides[which].depth(run, which) : 0),
        lineEffort: EFFORT_SHARES[which] * effort,
        turnEffort: effort - TURN_RELIEF,
        share,
      });
      const { runs, axis } = sides[sourceSide];
      const target = filamentRule(sides[targetSide].runs, settings(targetSide));
      const source: Source = axis
        ? { kind: 'rings', planes: ringPlanes(runs, settings(sourceSide)), axis }
        : nodeSource(filamentRule(runs, settings(sourceSide)));
      const sources =
        source.planes.reduce((sum, plane) => sum + plane.block.count, 0) +
        (source.kind === 'nodes' ? (source.loose?.count ?? 0) : 0);
      const spatial = source.kind === 'nodes' && source.loose !== null;
      return { source, target: targetRoom(target.nodes, spatial), pairs: sources * target.nodes.count };
    });
    const made = { levels, evaluations: levels.reduce((sum, level) => sum + level.pairs, 0), precision };
    keep(rules, key, made, CACHE_SIZE);
    return made;
  };

  const sums = (set: RuleSet, pose: Pose): number[] => {
    const matrix = swapped ? inverseMotion(poseMatrix(pose)) : poseMatrix(pose);
    const { axis } = sides[sourceSide];
    if (axis) {
      matrix[9]! -= axis.x;
      matrix[10]! -= axis.y;
    }
    return set.levels.map(({ source, target }) => {
      moveTargets(target, matrix);
      return MU0_4PI * neumannSum(engine, source, target, set.precision);
    });
  };

  const distanceAt = (pose: Pose): { readonly step: number; readonly facing: boolean } => {
    const boxes = localDistance(sides.a.extent, sides.b.extent, pose);
    const apart = pose.z + sides.b.extent.low[2] - sides.a.extent.high[2];
    const close = boxes <= CLOSE_SHARE * size;
    const distance = close ? Math.max(LEAST_DISTANCE, wireDistance(sides.a.runs, sides.b.runs, pose)) : boxes;
    return {
      step: stepOf(distance),
      facing: !close && Math.cos(pose.tiltX) * Math.cos(pose.tiltY) > 0.97 && boxes <= 1.001 * apart,
    };
  };

  /** Centred on the boxes' middles, parallel, at the distance of a step. */
  const scaleAt = (nearStep: number): number => {
    // Nearer than this it grows no more than logarithmically.
    const step = Math.max(nearStep, stepOf(CLOSE_SHARE * size));
    const known = scales.get(step);
    if (known !== undefined) return known;
    const middle = (axis: 0 | 1) =>
      (sides.a.extent.low[axis] + sides.a.extent.high[axis] - sides.b.extent.low[axis] - sides.b.extent.high[axis]) / 2;
    const z = sides.a.extent.high[2] - sides.b.extent.low[2] + stepDistance(step);
    const set = ruleSet(step, true, 4, 'single');
    const value = Math.abs(sums(set, { ...ORIGIN, x: middle(0), y: middle(1), z })[0]!);
    keep(scales, step, value, 4 * CACHE_SIZE);
    return value;
  };

  return {
    scale: (pose) => scaleAt(distanceAt(pose).step),
    mutual(pose) {
      const { step, facing } = distanceAt(pose);
      const scale = scaleAt(step);
      const wanted = tolerance * scale;
      const rounding =
        sides[sourceSide].axis === null
          ? SINGLE_ROUNDING * MU0_4PI * absoluteSum(a, b, stepDistance(step))
          : SINGLE_RING_ROUNDING * scale;
      const precision: Precision = rounding < 0.1 * wanted ? 'single' : 'double';
      let evaluations = 0;
      let reached = Number.POSITIVE_INFINITY;
      let effort = startEffort;
      const cost = sides[sourceSide].axis ? RING_COST : 1;
      const cheap = (next: number) => cost * ruleSet(step, facing, next, precision).evaluations < FREE_EVALUATIONS;
      while (effort < FREE_EFFORTS * startEffort && cheap(effort + EFFORT_STEP)) effort += EFFORT_STEP;
      for (; effort <= MOST_EFFORT; effort += EFFORT_STEP) {
        if (((a.wireLength + b.wireLength) * effort) / (4 * stepDistance(step)) > MOST_NODES) break;
        const set = ruleSet(step, facing, effort, precision);
        if (cost * (evaluations + set.evaluations) > MOST_EVALUATIONS) break;
        const [value, ...coarse] = sums(set, pose) as [number, ...number[]];
        evaluations += set.evaluations;
        const gains = coarse.map(
          (other, k) => Math.abs(value - other) * Math.exp(-TRUSTED_GAIN * (1 - COARSE_SHARES[k]!) * effort),
        );
        reached =
          SAFETY * Math.max(...gains) +
          FLOOR * Math.exp(-effort) * scale +
          (precision === 'single' ? rounding : 1e-15 * Math.abs(value));
        if (reached <= wanted) return { value, errorEstimate: reached, evaluations };
      }
      throw new ConvergenceError('mutual-inductance-not-reached', 'The coils are too close to each other to resolve.', {
        distance: stepDistance(step),
        wanted,
        reached,
      });
    },
  };
}

interface Side {
  readonly runs: readonly TurnRun[];
  readonly extent: WindingExtent;
  readonly axis: { readonly x: number; readonly y: number } | null;
  /** How far a run lies behind the winding's plane that faces the other coil, m. */
  readonly depth: (run: TurnRun, which: 'a' | 'b') => number;
}

function side(winding: Winding): Side {
  const runs = turnRuns(winding);
  const extent = windingExtent(runs);
  return {
    runs,
    extent,
    axis: ringAxis(runs),
    depth: (run, which) => (which === 'a' ? extent.high[2] - run.high : run.low - extent.low[2]),
  };
}

/** Inverse of the twelve numbers of a `poseMatrix`. */
function inverseMotion(m: Float64Array): Float64Array {
  const inverse = Float64Array.of(m[0]!, m[3]!, m[6]!, m[1]!, m[4]!, m[7]!, m[2]!, m[5]!, m[8]!, 0, 0, 0);
  for (let row = 0; row < 3; row++) {
    for (let k = 0; k < 3; k++) inverse[9 + row]! -= inverse[3 * row + k]! * m[9 + k]!;
  }
  return inverse;
}

const ORIGIN: Pose = Object.freeze({ x: 0, y: 0, z: 0, yaw: 0, tiltX: 0, tiltY: 0 });

function stepOf(distance: number): number {
  return Math.floor(STEPS_PER_OCTAVE * Math.log2(distance) + 1e-9);
}

function stepDistance(step: number): number {
  return 2 ** (step / STEPS_PER_OCTAVE);
}

/** Rough upper size of the sum of absolute terms, 1/m * m^2. */
function absoluteSum(a: Winding, b: Winding, distance: number): number {
  const reach = Math.max(distance, (a.halfWidth + a.halfHeight + b.halfWidth + b.halfHeight) / 4);
  return (a.wireLength * b.wireLength) / reach;
}

/** Adds to a map that forgets its oldest entry. */
function keep<Key, Value>(map: Map<Key, Value>, key: Key, value: Value, most: number): void {
  if (map.size >= most) map.delete(map.keys().next().value as Key);
  map.set(key, value);
}
