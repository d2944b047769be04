import { ConvergenceError } from '../../../numerics/errors.ts';
import type { Estimate } from '../../../numerics/estimate.ts';
import type { Pose, Winding } from '../types.ts';
import { localDistance, wireDistance } from './local-distance.ts';
import type { Precision } from './neumann-code.ts';
import { type NeumannEngine, neumannEngine } from './neumann-engine.ts';
import { createPairRules, type PairRule, stepDistance, stepOf } from './pair-rules.ts';

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

const MU0_4PI = 1e-7;
/** Shares of the node counts in the rules compared with. */
const COARSE_SHARES = [0.72, 0.62] as const;
/**
 * A rule with a share s of the nodes errs by about exp(s effort) / exp(effort) more. The estimate takes this fraction of
 * that gain for granted ...
 */
const TRUSTED_GAIN = 0.8;
const SAFETY = 0.9;
/** ... and adds this part of exp(-effort) against differences that are small by chance. How often it holds: README. */
const FLOOR = 0.01;
const FIRST_EFFORT_OFFSET = -3.6;
const EFFORT_STEP = 1.2;
const MOST_EFFORT = 36;
/** A first try that costs less than this is made finer: time goes elsewhere then. */
const FREE_EVALUATIONS = 25_000;
/** ... up to this multiple of the first effort. */
const FREE_EFFORTS = 1.6;
/** A rule and the two it is compared with cost this many times the first. */
const LEVELS_COST = 1.4;
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
const SCALE_EFFORT = 4;
const MOST_SCALES = 128;

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
  const rules = createPairRules(a, b, engine);
  const startEffort = Math.max(4, FIRST_EFFORT_OFFSET - Math.log(tolerance));
  const size = Math.min(Math.max(a.halfWidth, a.halfHeight), Math.max(b.halfWidth, b.halfHeight));
  const scales = new Map<number, number>();

  const distanceAt = (pose: Pose): { readonly step: number; readonly facing: boolean } => {
    const boxes = localDistance(rules.a.extent, rules.b.extent, pose);
    const apart = pose.z + rules.b.extent.low[2] - rules.a.extent.high[2];
    const close = boxes <= CLOSE_SHARE * size;
    const distance = close ? Math.max(LEAST_DISTANCE, wireDistance(rules.a.runs, rules.b.runs, pose)) : boxes;
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
      (rules.a.extent.low[axis] + rules.a.extent.high[axis] - rules.b.extent.low[axis] - rules.b.extent.high[axis]) / 2;
    const z = rules.a.extent.high[2] - rules.b.extent.low[2] + stepDistance(step);
    const rule = rules.rule({ step, facing: true, effort: SCALE_EFFORT, share: 1 });
    const value = Math.abs(rules.sum(rule, { x: middle(0), y: middle(1), z, yaw: 0, tiltX: 0, tiltY: 0 }, 'single'));
    if (scales.size >= MOST_SCALES) scales.delete(scales.keys().next().value as number);
    scales.set(step, value);
    return value;
  };

  return {
    scale: (pose) => scaleAt(distanceAt(pose).step),
    mutual(pose) {
      const { step, facing } = distanceAt(pose);
      const scale = scaleAt(step);
      const wanted = tolerance * scale;
      const rounding = rules.rings
        ? SINGLE_RING_ROUNDING * scale
        : SINGLE_ROUNDING * MU0_4PI * absoluteSum(a, b, stepDistance(step));
      const precision: Precision = rounding < 0.1 * wanted ? 'single' : 'double';
      let evaluations = 0;
      let reached = Number.POSITIVE_INFINITY;
      const cost = rules.rings ? RING_COST : 1;
      const levels = (at: number) =>
        [1, ...COARSE_SHARES].map((share) => rules.rule({ step, facing, effort: at, share }));
      const work = (rule: PairRule) => cost * LEVELS_COST * rule.evaluations;
      let effort = startEffort;
      while (effort < FREE_EFFORTS * startEffort) {
        const rule = rules.rule({ step, facing, effort, share: 1 });
        if (work(rule) * ((effort + EFFORT_STEP) / effort) ** 4 > FREE_EVALUATIONS) break;
        effort += EFFORT_STEP;
      }
      for (; effort <= MOST_EFFORT; effort += EFFORT_STEP) {
        if (((a.wireLength + b.wireLength) * effort) / (4 * stepDistance(step)) > MOST_NODES) break;
        const set = levels(effort);
        if (cost * evaluations + work(set[0]!) > MOST_EVALUATIONS) break;
        const [value, ...coarse] = set.map((rule) => rules.sum(rule, pose, precision)) as [number, ...number[]];
        for (const rule of set) evaluations += rule.evaluations;
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

/** Rough upper size of the sum of absolute terms, 1/m * m^2. */
function absoluteSum(a: Winding, b: Winding, distance: number): number {
  const reach = Math.max(distance, (a.halfWidth + a.halfHeight + b.halfWidth + b.halfHeight) / 4);
  return (a.wireLength * b.wireLength) / reach;
}
