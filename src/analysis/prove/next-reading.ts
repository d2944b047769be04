import type { Design } from '../../design/types.ts';
import type { Bench } from './bench.ts';
import { type BenchLink, type BenchPose, benchPose, shiftedLink } from './bench-links.ts';
import { type Prediction, quickMost, quickPrediction } from './bench-prediction.ts';
import { benchBoards, stateAt } from './bench-state.ts';
import { PLACE_MM, SPACER_MM, TWO_SIDED_95 } from './fit-parameters.ts';
import { furtherGapMm } from './further-gap.ts';
import { meterSigma, type Quantity, readingSigma } from './meter-accuracy.ts';
import { varianceAlong } from './posterior.ts';
import { HARDLY } from './reading-worth.ts';

/** A reading that could be taken next, and what it would be worth. */
export interface NextReading {
  readonly kind: 'frequency' | 'rectifiedVoltage' | 'anotherGap' | 'anotherSupply' | 'temperature' | 'anotherOffset';
  /** What to do. */
  readonly sentence: string;
  /** By how much it would narrow the reach, share of its present width. */
  readonly narrowing: number;
  /** What would be left of the width of the combination of values that it reads, share. */
  readonly leaves: number;
}

interface Candidate {
  readonly kind: NextReading['kind'];
  readonly sentence: string;
  readonly link: BenchLink;
  readonly supplyV: number;
  readonly quantities: readonly Quantity[];
  /** Standard deviations of the place's gap and offset, m: new places bring their own errors. */
  readonly gapSigma: number;
  readonly offsetSigma: number;
}

/** Where a candidate is taken: share of the largest current there. */
const LOAD_SHARE = 0.7;
const STEP = 0.05;
/**
 * Ranks possible next readings by how much each would narrow the reach: the posterior is updated by the slopes of what the reading would
 * show, to first order, and the variance along the reach's own slope compared. Those that hardly narrow it follow by how much they
 * would fix of whatever they read.
 *
 * @param home the link at the design's own gap, centred. @param further the link at `furtherGapMm`. @param beside one off centre.
 * @param goal slopes of the reach (or of the largest current) in the fitted values.
 */
export function rankNextReadings(
  design: Design,
  bench: Bench,
  z: Float64Array,
  covariance: Float64Array,
  goal: Float64Array,
  places: {
    readonly home: BenchLink;
    readonly further: BenchLink;
    readonly beside: { readonly link: BenchLink; readonly pose: BenchPose };
  },
): NextReading[] {
  const { supplyV } = design.transmitter.drive;
  const { gapMm } = design.placement;
  const state = stateAt(bench.boards, bench.parameters, z);
  const load = (link: BenchLink, volts: number): number =>
    Math.max(
      0.02,
      LOAD_SHARE * quickMost(shiftedLink(link, state.gapShift, 0, state.scales), benchBoards(state, volts)),
    );
  const otherV = otherSupply(design);
  const further = benchPose(furtherGapMm(design), 0, 0);
  const spacer = SPACER_MM / 1e3 / TWO_SIDED_95;
  const place = PLACE_MM / 1e3 / TWO_SIDED_95;
  const { home, beside } = places;
  const amps = (link: BenchLink, volts: number): string => `${load(link, volts).toFixed(2)} A`;
  const here = `at ${supplyV} V, ${amps(home, supplyV)}, ${gapMm} mm gap`;
  const known = { link: home, supplyV, gapSigma: 0, offsetSigma: 0 };
  const candidates: Candidate[] = [
    { ...known, kind: 'frequency', sentence: `Read the operating frequency ${here}.`, quantities: ['frequencyHz'] },
    { ...known, kind: 'rectifiedVoltage', sentence: `Read the rectified voltage ${here}.`, quantities: ['rectifiedV'] },
    {
      ...known,
      kind: 'temperature',
      sentence: `Read the receiver's temperature ${here}, once it has settled.`,
      quantities: ['receiverC'],
    },
    {
      ...known,
      kind: 'anotherSupply',
      supplyV: otherV,
      sentence: `Read the supply current at ${otherV} V, ${amps(home, otherV)}, ${gapMm} mm gap.`,
      quantities: ['supplyA'],
    },
    {
      ...known,
      kind: 'anotherGap',
      link: places.further,
      gapSigma: spacer,
      sentence: `Read the supply current at ${further.gapMm} mm gap, ${supplyV} V, ${amps(places.further, supplyV)}.`,
      quantities: ['supplyA'],
    },
    {
      ...known,
      kind: 'anotherOffset',
      link: beside.link,
      gapSigma: spacer,
      offsetSigma: place,
      sentence: `Read the supply current ${Math.hypot(beside.pose.xMm, beside.pose.yMm).toFixed(0)} mm off centre at ${supplyV} V, ${amps(beside.link, supplyV)}.`,
      quantities: ['supplyA'],
    },
  ];
  const before = varianceAlong(covariance, goal);
  return candidates
    .map(({ kind, sentence, ...candidate }) => {
      const { variance, leaves } = after(design, bench, z, covariance, goal, before, candidate);
      return { kind, sentence, narrowing: before > 0 ? 1 - Math.sqrt(variance / before) : 0, leaves };
    })
    .sort((a, b) => told(b) - told(a) || a.leaves - b.leaves);
}

/** The narrowing as far as it can be told. */
function told({ narrowing }: NextReading): number {
  return narrowing < HARDLY ? 0 : narrowing;
}

/** A supply that differs enough to teach something and stays within what such boards take: a quarter more, or the larger one already used. */
function otherSupply(design: Design): number {
  const own = design.transmitter.drive.supplyV;
  const used = design.readings.map((reading) => reading.supplyV).filter((volts) => Math.abs(volts / own - 1) > 0.1);
  const volts = used.length > 0 ? used[0] : 1.2 * own;
  return Number(volts.toPrecision(2));
}

/** Variance along the goal once the candidate's number is known, and what is left of the width of what it reads. */
function after(
  design: Design,
  bench: Bench,
  z: Float64Array,
  covariance: Float64Array,
  goal: Float64Array,
  before: number,
  candidate: Omit<Candidate, 'kind' | 'sentence'>,
): { readonly variance: number; readonly leaves: number } {
  const { link, supplyV, quantities, gapSigma, offsetSigma } = candidate;
  const n = z.length;
  const quantity = quantities[0];
  const base = stateAt(bench.boards, bench.parameters, z);
  const loadA = Math.max(
    0.02,
    LOAD_SHARE * quickMost(shiftedLink(link, base.gapShift, 0, base.scales), benchBoards(base, supplyV)),
  );
  const at = (values: Float64Array, volts = supplyV, amps = loadA, gap = 0, offset = 0): number => {
    const state = stateAt(bench.boards, bench.parameters, values);
    const electrical = shiftedLink(link, state.gapShift + gap, offset, state.scales);
    return (quickPrediction(electrical, benchBoards(state, volts), amps) as Prediction)[quantity];
  };
  const value = at(z);
  const voltsSigma = meterSigma(design.meters, 'voltage', supplyV);
  const loadSigma = meterSigma(design.meters, 'current', loadA);
  const sigma = Math.hypot(
    readingSigma(design.meters, quantity, value),
    at(z, supplyV + voltsSigma) - value,
    at(z, supplyV, loadA + loadSigma) - value,
    gapSigma > 0 ? at(z, supplyV, loadA, gapSigma) - value : 0,
    offsetSigma > 0 ? at(z, supplyV, loadA, 0, offsetSigma) - value : 0,
  );
  const slope = new Float64Array(n);
  const moved = z.slice();
  for (let j = 0; j < n; j++) {
    moved[j] = z[j] + STEP;
    const up = at(moved);
    moved[j] = z[j] - STEP;
    slope[j] = (up - at(moved)) / (2 * STEP * sigma);
    moved[j] = z[j];
  }
  // Rank-one update of the covariance along the goal.
  let cross = 0;
  for (let a = 0; a < n; a++) for (let b = 0; b < n; b++) cross += goal[a] * covariance[a * n + b] * slope[b];
  const read = varianceAlong(covariance, slope);
  return { variance: Math.max(0, before - (cross * cross) / (1 + read)), leaves: 1 / Math.sqrt(1 + read) };
}
