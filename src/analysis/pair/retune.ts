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

/** How far the search for capacitors goes either way, and its steps. */
const WIDEST = 2.8;
const STEPS = 25;
const REFINEMENTS = 3;

/**
 * Series capacitors for the coils as placed: those with which the largest current at the worse ends of both parts'
 * tolerances is greatest. Among equals (the regulator's own limit) the ones nearest to what is there.
 *
 * Method: first-harmonic circuit on a logarithmic grid of capacitances, refined about its best; five circuits for each pair.
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
  const receiver = best((_, b) => worst(now[0], b), now, false);
  const both = best(worst, now, true);
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

/** Greatest value over a shrinking logarithmic grid about a start; ties go to the pair nearest to the start. */
function best(
  value: (a: number, b: number) => number,
  start: readonly [number, number],
  first: boolean,
): readonly [number, number] {
  let centre = start;
  let reach = Math.log(WIDEST);
  let most = value(...start);
  let at = start;
  for (let round = 0; round <= REFINEMENTS; round++) {
    const half = round === 0 ? (STEPS - 1) / 2 : 3;
    const step = reach / half;
    for (let i = first ? -half : 0; i <= (first ? half : 0); i++) {
      for (let j = -half; j <= half; j++) {
        const a = centre[0] * Math.exp(i * step);
        const b = centre[1] * Math.exp(j * step);
        const here = value(a, b);
        const far = (p: readonly [number, number]): number =>
          Math.hypot(Math.log(p[0] / start[0]), Math.log(p[1] / start[1]));
        if (here > most * (1 + 1e-6) || (here > most * (1 - 1e-6) && far([a, b]) < far(at) - 1e-9)) {
          most = Math.max(most, here);
          at = [a, b];
        }
      }
    }
    centre = at;
    reach = step;
  }
  return at;
}
