import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { linkSidesOf } from '../../design/wind.ts';
import { ConvergenceError, InputError } from '../../numerics/errors.ts';
import { batchMaxOutput, maxOutputBatch } from '../../physics/circuit/batch-max-output.ts';
import { batchWake } from '../../physics/circuit/batch-wake.ts';
import { solveOperatingPoint } from '../../physics/circuit/operating-point.ts';
import type { LinkElectrical, LinkState, ResistanceLaw } from '../../physics/circuit/types.ts';
import { createPairKernel } from '../../physics/coil/kernel/pair-kernel.ts';
import { selfInductance } from '../../physics/coil/self-inductance.ts';
import type { Winding } from '../../physics/coil/types.ts';
import { resistanceLaw } from '../../physics/conductor/resistance-law.ts';
import { linkAtPose } from '../link/link-at-pose.ts';
import { COPPER_REFERENCE_C, linkContext, poseOfDesign } from '../link/link-context.ts';
import { mirrorSymmetry } from '../link/link-domain.ts';
import { attitudeOf } from '../link/model-plan.ts';
import { Lru } from '../lru.ts';
import { marginPercent } from '../margin/margin-percent.ts';
import { chargesCell } from '../margin/pose-answer.ts';
import { centredDesign } from './candidate-report.ts';
import type { Fitness } from './differential-evolution.ts';
import { type SearchRequest, type Trial, trialDesign } from './search-space.ts';

/** Offsets at which a trial is looked at, and what the plates make of the present pair there: plain data. */
export interface SearchBase {
  /** Directions, rad, and radii, m; the centre first. */
  readonly directions: readonly number[];
  readonly radii: readonly number[];
  /** With plates over in air, at each sample: [directions, radii] row-major. */
  readonly l1: Float64Array;
  readonly l2: Float64Array;
  readonly m: Float64Array;
  /** What the plates add to each side's resistance law, centred. */
  readonly added1: ResistanceLaw;
  readonly added2: ResistanceLaw;
  /** What the present pair does at the least load. */
  readonly idleState: LinkState;
  /** Inductances in air of the present pair, H. */
  readonly air: { readonly l1: number; readonly l2: number };
}

/** One trial's answer, in air with the plates' share carried over from the present pair. */
export interface TrialResult extends Fitness {
  readonly reachMm: number;
  readonly maxOutputA: number;
  /** Loss in coils, rectifier and regulator at the demand, W. */
  readonly lossW: number;
  readonly receiverC: number;
}

const RADII = 9;
/** Of the centre's: below this the ratio of M with plates to M in air says nothing. */
const SMALL_SHARE = 0.05;
/** States at the least load that a better coil must not bring. */
const SPOILED: readonly LinkState[] = ['overfed', 'overvoltage', 'hot'];
const WORST: TrialResult = Object.freeze({
  violation: 10,
  value: Number.POSITIVE_INFINITY,
  reachMm: 0,
  maxOutputA: 0,
  lossW: Number.POSITIVE_INFINITY,
  receiverC: Number.NaN,
});

/** Samples and the plates' shares of the present pair, on the coarse grids. */
export function searchBase(design: Design): SearchBase {
  const centred = centredDesign(design);
  const context = linkContext(centred);
  const { transmitter, receiver } = context;
  const even = mirrorSymmetry(transmitter, receiver, attitudeOf(centred));
  const span = even.x && even.y ? Math.PI / 2 : even.x || even.y ? Math.PI : 2 * Math.PI;
  const first = even.y && !even.x ? 0 : even.x && !even.y ? -Math.PI / 2 : 0;
  const count = span === 2 * Math.PI ? 8 : 1 + Math.round((4 * span) / Math.PI);
  const directions = Array.from(
    { length: count },
    (_, i) => first + (span * i) / (span === 2 * Math.PI ? count : count - 1),
  );
  const half = Math.max(
    transmitter.winding.halfWidth,
    transmitter.winding.halfHeight,
    receiver.winding.halfWidth,
    receiver.winding.halfHeight,
  );
  const radii = Array.from({ length: RADII }, (_, i) => (0.9 * half * i) / (RADII - 1));
  const samples = count * RADII;
  const l1 = new Float64Array(samples).fill(1);
  const l2 = new Float64Array(samples).fill(1);
  const m = new Float64Array(samples).fill(1);
  const pose = poseOfDesign(centred);
  const centre = linkAtPose(context, pose, 'coarse');
  if (context.plates) {
    forSamples(directions, radii, (at, x, y) => {
      const { electrical, air } = linkAtPose(context, { ...pose, x, y }, 'coarse');
      l1[at] = electrical.l1 / air.l1;
      l2[at] = electrical.l2 / air.l2;
      m[at] = Math.abs(air.m) > SMALL_SHARE * Math.abs(centre.air.m) ? electrical.m / air.m : 1;
    });
  }
  const added = (law: ResistanceLaw, winding: Winding): ResistanceLaw => {
    const own = copperLaw(centred, winding);
    return {
      dc: law.dc - own.dc,
      linear: law.linear - own.linear,
      quadratic: law.quadratic - own.quadratic,
      quartic: law.quartic - own.quartic,
    };
  };
  return {
    directions,
    radii,
    l1,
    l2,
    m,
    added1: added(centre.electrical.r1, transmitter.winding),
    added2: added(centre.electrical.r2, receiver.winding),
    idleState: solveOperatingPoint(centre.electrical, boardsOf(centred), demandOf(centred).idleA, { tier: 'fast' })
      .state,
    air: { l1: centre.air.l1, l2: centre.air.l2 },
  };
}

function forSamples(
  directions: readonly number[],
  radii: readonly number[],
  visit: (at: number, x: number, y: number) => void,
): void {
  directions.forEach((angle, i) => {
    radii.forEach((radius, j) => {
      visit(i * radii.length + j, radius * Math.cos(angle), radius * Math.sin(angle));
    });
  });
}

const laws = new Lru<ResistanceLaw>(16);
const inductances = new Lru<number>(16);

function copperLaw(design: Design, winding: Winding): ResistanceLaw {
  const { frequencyMinKhz, frequencyMaxKhz } = design.transmitter.drive;
  const key = JSON.stringify([winding.spec, frequencyMinKhz, frequencyMaxKhz]);
  return laws.obtain(
    key,
    () =>
      resistanceLaw(winding, frequencyMinKhz * 1e3, frequencyMaxKhz * 1e3, COPPER_REFERENCE_C, { externalField: null })
        .law,
  );
}

function inductanceOf(winding: Winding): number {
  return inductances.obtain(JSON.stringify(winding.spec), () => selfInductance(winding, { tolerance: 1e-3 }).value);
}

/** The design of a trial with its series capacitor set. */
export function tunedTrial(request: SearchRequest, base: SearchBase, trial: Trial): Design {
  const { side } = request;
  const winding = linkSidesOf(trial.design)[side].winding;
  const air = side === 'transmitter' ? base.air.l1 : base.air.l2;
  const factor = (air / inductanceOf(winding)) * trial.capacitorFactor;
  const scaled = (value: number): number => Number((value * factor).toPrecision(4));
  const { transmitter, receiver } = trial.design;
  if (side === 'transmitter') {
    const drive = { ...transmitter.drive, seriesCapacitanceNf: scaled(transmitter.drive.seriesCapacitanceNf) };
    return { ...trial.design, transmitter: { ...transmitter, drive } };
  }
  const pickup = { ...receiver.pickup, seriesCapacitanceNf: scaled(receiver.pickup.seriesCapacitanceNf) };
  return { ...trial.design, receiver: { ...receiver, pickup } };
}

/**
 * Judges one trial quickly: air by the Neumann kernel, the plates' shares of the present pair at the same offsets, first
 * harmonic. Good for ranking; what is found is confirmed by direct solutions (`candidateReport`).
 */
export function judgeTrial(request: SearchRequest, base: SearchBase, x: ArrayLike<number>): TrialResult {
  const trial = trialDesign(request, x);
  if (!trial) return WORST;
  try {
    return judgeDesign(request, base, centredDesign(tunedTrial(request, base, trial)));
  } catch (error) {
    // One coil that cannot be solved must not end the search: it counts as one that cannot be wound.
    if (error instanceof InputError || error instanceof ConvergenceError) return WORST;
    throw error;
  }
}

function judgeDesign(request: SearchRequest, base: SearchBase, design: Design): TrialResult {
  const sides = linkSidesOf(design);
  const { transmitter, receiver } = sides;
  const kernel = createPairKernel(transmitter.winding, receiver.winding, { tolerance: 1e-3 });
  const pose = poseOfDesign(design);
  const air1 = inductanceOf(transmitter.winding);
  const air2 = inductanceOf(receiver.winding);
  const r1 = sumOf(copperLaw(design, transmitter.winding), base.added1);
  const r2 = sumOf(copperLaw(design, receiver.winding), base.added2);
  const samples = base.directions.length * base.radii.length;
  const batch = {
    l1: base.l1.map((share) => share * air1),
    l2: base.l2.map((share) => share * air2),
    m: new Float64Array(samples),
    r1: repeated(r1, samples),
    r2: repeated(r2, samples),
  };
  const airM = new Map<number, number>();
  forSamples(base.directions, base.radii, (at, x, y) => {
    const centre = at % base.radii.length === 0;
    const value = centre && airM.has(0) ? airM.get(0)! : kernel.mutual({ ...pose, x, y }).value;
    if (centre) airM.set(0, value);
    batch.m[at] = value * base.m[at]!;
  });
  const boards = boardsOf(design);
  const demand = demandOf(design);
  const charging = chargesCell(design, demand);
  const current = batchMaxOutput(batch, boards, maxOutputBatch(samples), { charging }).current;
  const wake = batchWake(batch, boards, new Float64Array(samples));
  const wanted = design.demand.wantedMarginPercent;
  const slack = current.map((value, i) =>
    Math.min((marginPercent(value, demand.demandA) - wanted) / 100, wake[i]! / boards.pickup.wakeV - 1),
  );
  const link: LinkElectrical = { l1: batch.l1[0]!, l2: batch.l2[0]!, m: batch.m[0]!, r1, r2 };
  const point = solveOperatingPoint(link, boards, demand.demandA, { tier: 'fast', charging });
  const idle = solveOperatingPoint(link, boards, demand.idleA, { tier: 'fast', charging });
  const { transmitterCoil, receiverCoil, rectifier, regulator } = point.losses;
  const lossW = transmitterCoil + receiverCoil + rectifier + regulator;
  const reachMm = 1e3 * reachOf(slack, base.radii, base.directions.length);
  const maxOutputA = current[0]!;
  // At light load it may not be worse off than the present pair.
  const spoiled = idle.state !== base.idleState && SPOILED.includes(idle.state);
  const broken = (point.state === 'regulated' ? 0 : 1) + (spoiled ? 1 : 0);
  const violation = Math.max(0, -slack[0]!) + broken;
  const value =
    request.goal === 'reach'
      ? -reachMm - 1e-3 * maxOutputA
      : request.goal === 'current'
        ? -maxOutputA - 1e-4 * reachMm
        : lossW - 1e-5 * reachMm;
  return { violation, value, reachMm, maxOutputA, lossW, receiverC: point.receiverC };
}

/** Least radius over the directions at which the slack first falls below zero; the last radius where it does not. */
function reachOf(slack: Float64Array, radii: readonly number[], directions: number): number {
  let least = radii[radii.length - 1]!;
  for (let i = 0; i < directions; i++) {
    const line = slack.subarray(i * radii.length, (i + 1) * radii.length);
    const end = line.findIndex((value) => value < 0);
    if (end < 0) continue;
    if (end === 0) return 0;
    const [a, b] = [line[end - 1]!, line[end]!];
    least = Math.min(least, radii[end - 1]! + ((radii[end]! - radii[end - 1]!) * a) / (a - b));
  }
  return least;
}

function sumOf(a: ResistanceLaw, b: ResistanceLaw): ResistanceLaw {
  return {
    dc: Math.max(1e-4, a.dc + b.dc),
    linear: a.linear + b.linear,
    quadratic: a.quadratic + b.quadratic,
    quartic: a.quartic + b.quartic,
  };
}

function repeated(law: ResistanceLaw, count: number): Float64Array {
  const out = new Float64Array(4 * count);
  for (let i = 0; i < count; i++) out.set([law.dc, law.linear, law.quadratic, law.quartic], 4 * i);
  return out;
}
