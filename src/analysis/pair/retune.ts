import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { solveOperatingPoint } from '../../physics/circuit/operating-point.ts';
import type { LinkElectrical, LinkState } from '../../physics/circuit/types.ts';
import { linkAtPose } from '../link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../link/link-context.ts';
import { fastOutput } from '../margin/fast-output.ts';
import { chargesCell } from '../margin/pose-answer.ts';
import { nearestParts, type PartChoice, type SeriesName } from './standard-values.ts';

/** A pair of series capacitors and what the link does with them, by first harmonic. */
export interface Tuning {
  readonly transmitterNf: number;
  readonly receiverNf: number;
  /** Of each capacitor with its coil as placed, Hz. */
  readonly transmitterResonanceHz: number;
  readonly receiverResonanceHz: number;
  readonly maxOutputA: number;
  /** Least and largest over the four corners of both parts' tolerances, A. */
  readonly worstA: number;
  readonly bestA: number;
  /** At the least idle load, and at the worst continuous one. */
  readonly idleState: LinkState;
  readonly demandState: LinkState;
}

export interface PartTuning {
  readonly series: SeriesName;
  readonly part: PartChoice;
  readonly tuning: Tuning;
}

export interface RetuneAnswer {
  readonly transmitterInductanceH: number;
  readonly receiverInductanceH: number;
  readonly transmitterTolerancePercent: number;
  readonly receiverTolerancePercent: number;
  readonly demandA: number;
  readonly now: Tuning;
  /** The receiver's capacitor alone changed. */
  readonly receiver: Tuning;
  /** Both changed. */
  readonly both: Tuning;
  /** Parts for the receiver's capacitor with the transmitter's as it is, best first within each series. */
  readonly receiverParts: readonly PartTuning[];
  /** Parts for the transmitter's capacitor of `both`. */
  readonly transmitterParts: readonly { readonly series: SeriesName; readonly part: PartChoice }[];
}

/** Capacitance that resonates with an inductance at a frequency, F: C = 1 / (w^2 L). */
export function tunedCapacitance(inductanceH: number, frequencyHz: number): number {
  return 1 / ((2 * Math.PI * frequencyHz) ** 2 * inductanceH);
}

/** Resonance of an inductance with a capacitance, Hz: f = 1 / (2 pi sqrt(L C)). */
export function resonance(inductanceH: number, capacitanceF: number): number {
  return 1 / (2 * Math.PI * Math.sqrt(inductanceH * capacitanceF));
}

/** Resonances that the search looks at, as shares of the window's ends; its steps; how often it looks closer. */
const LOWEST_SHARE = 0.6;
const HIGHEST_SHARE = 1.3;
const STEPS = 35;
const REFINEMENTS = 3;
/** What a part must bring for each factor e that it lies from the one there: beyond resonance the current hardly changes. */
const WORTH_IT = 0.02;

/**
 * Series capacitors for the coils as placed: those with which the largest current at the worse ends of both parts'
 * tolerances is greatest, less 2 % for each factor e from what is there: where nearly all give the same (the regulator's own
 * limit, or far beyond resonance) the nearest ones.
 *
 * Method: first-harmonic circuit on a logarithmic grid of capacitances, from those that resonate well above the window to
 * those well below it, refined about its best; five circuits for each pair.
 * @throws InputError as the link does
 */
export function retune(design: Design): RetuneAnswer {
  const context = linkContext(design);
  return retuneLink(design, linkAtPose(context, poseOfDesign(design), 'fine').electrical);
}

/** `retune` for a link that is known. */
export function retuneLink(design: Design, link: LinkElectrical): RetuneAnswer {
  const { drive } = design.transmitter;
  const { pickup } = design.receiver;
  const demand = demandOf(design);
  const charging = chargesCell(design, demand);
  const boards = boardsOf(design);
  const [tolerance1, tolerance2] = [
    drive.seriesCapacitanceTolerancePercent / 100,
    pickup.seriesCapacitanceTolerancePercent / 100,
  ];
  const withCapacitors = (transmitterNf: number, receiverNf: number) => ({
    ...boards,
    drive: { ...boards.drive, seriesCapacitance: transmitterNf * 1e-9 },
    pickup: { ...boards.pickup, seriesCapacitance: receiverNf * 1e-9 },
  });
  const output = (transmitterNf: number, receiverNf: number): number =>
    fastOutput([link], withCapacitors(transmitterNf, receiverNf), { charging })[0]!;
  const corners = (transmitterNf: number, receiverNf: number): number[] =>
    [-1, 1].flatMap((a) =>
      [-1, 1].map((b) => output(transmitterNf * (1 + a * tolerance1), receiverNf * (1 + b * tolerance2))),
    );
  const worst = (transmitterNf: number, receiverNf: number): number => Math.min(...corners(transmitterNf, receiverNf));
  const tuning = (transmitterNf: number, receiverNf: number): Tuning => {
    const with_ = withCapacitors(transmitterNf, receiverNf);
    const ends = corners(transmitterNf, receiverNf);
    const nominal = output(transmitterNf, receiverNf);
    const state = (loadA: number): LinkState =>
      solveOperatingPoint(link, with_, loadA, { tier: 'fast', charging }).state;
    return {
      transmitterNf,
      receiverNf,
      transmitterResonanceHz: resonance(link.l1, transmitterNf * 1e-9),
      receiverResonanceHz: resonance(link.l2, receiverNf * 1e-9),
      maxOutputA: nominal,
      worstA: Math.min(nominal, ...ends),
      bestA: Math.max(nominal, ...ends),
      idleState: state(demand.idleA),
      demandState: state(demand.demandA),
    };
  };
  const now = [drive.seriesCapacitanceNf, pickup.seriesCapacitanceNf] as const;
  const range = (inductanceH: number, nf: number): [number, number] => {
    const nanofarads = (frequencyHz: number): number => 1e9 * tunedCapacitance(inductanceH, frequencyHz);
    return [
      Math.min(nf, nanofarads(HIGHEST_SHARE * boards.drive.frequencyMax)),
      Math.max(nf, nanofarads(LOWEST_SHARE * boards.drive.frequencyMin)),
    ];
  };
  const ranges = [range(link.l1, now[0]), range(link.l2, now[1])] as const;
  const receiver = best((_, b) => worst(now[0], b), now, [null, ranges[1]]);
  const both = best(worst, now, ranges);
  const parts = (wanted: number): { series: SeriesName; part: PartChoice }[] =>
    (['E12', 'E24'] as const).flatMap((series) => nearestParts(wanted, series, 2).map((part) => ({ series, part })));
  return {
    transmitterInductanceH: link.l1,
    receiverInductanceH: link.l2,
    transmitterTolerancePercent: drive.seriesCapacitanceTolerancePercent,
    receiverTolerancePercent: pickup.seriesCapacitanceTolerancePercent,
    demandA: demand.demandA,
    now: tuning(...now),
    receiver: tuning(now[0], receiver[1]),
    both: tuning(...both),
    receiverParts: parts(receiver[1]).map(({ series, part }) => ({
      series,
      part,
      tuning: tuning(now[0], part.total),
    })),
    transmitterParts: parts(both[0]),
  };
}

type Range = readonly [number, number];

/**
 * Greatest value over a logarithmic grid that shrinks about its best; between nearly equal ones the pair nearer to the start.
 *
 * @param ranges of both coordinates; null: it stays
 */
function best(
  value: (a: number, b: number) => number,
  start: Range,
  ranges: readonly [Range | null, Range | null],
): Range {
  let most = value(...start);
  let at = start;
  const far = (p: Range): number => Math.hypot(Math.log(p[0] / start[0]), Math.log(p[1] / start[1]));
  const look = (as: readonly number[], bs: readonly number[]): void => {
    for (const a of as)
      for (const b of bs) {
        const here = value(a, b) * (1 - WORTH_IT * far([a, b]));
        if (here > most * (1 + 1e-6) || (here > most * (1 - 1e-6) && far([a, b]) < far(at) - 1e-9)) {
          most = Math.max(most, here);
          at = [a, b];
        }
      }
  };
  const steps = ranges.map((range) => (range ? Math.log(range[1] / range[0]) / (STEPS - 1) : 0));
  const ladder = (from: number, step: number, first: number, last: number): number[] =>
    step === 0 ? [from] : Array.from({ length: last - first + 1 }, (_, i) => from * Math.exp((first + i) * step));
  const whole = ([0, 1] as const).map((axis) => ladder(ranges[axis]?.[0] ?? start[axis], steps[axis]!, 0, STEPS - 1));
  look(whole[0]!, whole[1]!);
  for (let round = 1; round <= REFINEMENTS; round++) {
    const [a, b] = at;
    const closer = steps.map((step) => step / 3 ** round);
    look(ladder(a, closer[0]!, -3, 3), ladder(b, closer[1]!, -3, 3));
  }
  return at;
}
