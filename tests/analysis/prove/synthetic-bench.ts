import { type Bench, benchOf } from '../../../src/analysis/prove/bench.ts';
import {
  exactPrediction,
  type Prediction,
  quickMost,
  quickPrediction,
} from '../../../src/analysis/prove/bench-prediction.ts';
import { type BenchState, benchBoards, benchElectrical, stateAt } from '../../../src/analysis/prove/bench-state.ts';
import { type Asked, answersOf, type Draw } from '../../../src/analysis/prove/drawn-answers.ts';
import type { CurveGroup } from '../../../src/analysis/prove/efficiency-curve.ts';
import { type FitLinks, type FitWork, fitLinks, LOCAL_WORK } from '../../../src/analysis/prove/fit-bench.ts';
import { instrumentSigma, limitSigma, meterSigma, type Quantity } from '../../../src/analysis/prove/meter-accuracy.ts';
import { documentOf, parseDesign } from '../../../src/design/resolve.ts';
import type { Design, ReadingDocument } from '../../../src/design/types.ts';
import type { RandomSource } from '../../../src/numerics/random.ts';

/** A pair without plates, of our own, in which every pose costs some milliseconds. Inductances as large as those of coils on ferrite. */
export function airDesign(change: Record<string, unknown> = {}): Design {
  const coil = (turns: number, layers: number) => ({
    outline: { shape: 'circle', outerDiameterMm: 44, innerDiameterMm: 21 },
    turns,
    layers,
    layerPitchMm: 1.2,
    conductor: { kind: 'litz', strands: 105, strandDiameterMm: 0.08, bundleDiameterMm: 1.1 },
  });
  const parsed = parseDesign({
    format: 'offcentre-design',
    version: 1,
    title: 'Bench in air',
    transmitter: {
      coil: coil(14, 2),
      ferrite: null,
      metal: null,
      drive: {
        supplyV: 5,
        supplyResistanceOhm: 0.1,
        seriesCapacitanceNf: 330,
        seriesCapacitanceTolerancePercent: 5,
        frequencyMinKhz: 110,
        frequencyMaxKhz: 205,
        frequencyTolerancePercent: 0.5,
      },
    },
    receiver: {
      coil: coil(20, 2),
      ferrite: null,
      metal: null,
      pickup: {
        seriesCapacitanceNf: 150,
        seriesCapacitanceTolerancePercent: 5,
        parallelCapacitanceNf: 1.8,
        regulator: { kind: 'linear', outputV: 5, currentLimitA: 3 },
        target: { lowV: 5.3, highV: 7 },
      },
    },
    placement: { gapMm: 5 },
    demand: { wantedMarginPercent: 20, loads: [{ name: 'playing', currentA: 1.1 }] },
    ...change,
  });
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults));
  return parsed.design;
}

/** What is read, and where. Loads are shares of the true largest current. */
export interface PlannedReading {
  readonly supplyV: number;
  readonly gapMm: number;
  readonly offsetXMm: number;
  readonly share: number;
  readonly quantities: readonly Quantity[];
}

/** Readings as somebody takes them: loads at two gaps and off centre, some frequencies, some rectified voltages, collapses. */
export function usualPlan(): PlannedReading[] {
  const at = (
    supplyV: number,
    gapMm: number,
    offsetXMm: number,
    share: number,
    ...quantities: Quantity[]
  ): PlannedReading => ({
    supplyV,
    gapMm,
    offsetXMm,
    share,
    quantities: ['supplyA', 'outputV', ...quantities],
  });
  return [
    at(5, 5, 0, 0.2),
    at(5, 5, 0, 0.5, 'frequencyHz'),
    at(5, 5, 0, 0.8, 'frequencyHz', 'rectifiedV'),
    at(5, 5, 0, 1.03),
    at(6, 5, 0, 0.5, 'frequencyHz'),
    at(5, 8, 0, 0.5, 'frequencyHz'),
    at(5, 8, 0, 0.8, 'rectifiedV'),
    at(5, 8, 0, 1.03),
    at(5, 5, 10, 0.4),
    at(5, 5, 10, 0.8, 'frequencyHz'),
    at(5, 5, 10, 1.03),
    at(5, 5, 0, 0.7, 'receiverC', 'transmitterC'),
  ];
}

/** The field at every place of the plan, for any number of benches of the same design. */
export async function plannedLinks(design: Design, plan: readonly PlannedReading[]): Promise<FitLinks> {
  return fitLinks(withReadings(design, plan.map(blank)), LOCAL_WORK);
}

function blank({ supplyV, gapMm, offsetXMm }: PlannedReading): Partial<ReadingDocument> {
  return { supplyV, outputA: 0.1, gapMm, offsetXMm, offsetYMm: 0 };
}

/** The design with these readings in place of its own; what it assumed stays assumed. */
export function withReadings(design: Design, readings: readonly Partial<ReadingDocument>[]): Design {
  const parsed = parseDesign({ ...documentOf(design), readings });
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults));
  return { ...parsed.design, assumed: design.assumed ?? [] };
}

/** Below this largest current, A, no reading is taken. */
const LEAST_A = 0.05;

export interface SyntheticBench {
  readonly design: Design;
  /** True values, in prior standard deviations. */
  readonly truth: Float64Array;
}

/** Values drawn from the priors, cut at three standard deviations, as no part lies farther out. */
export function drawTruth(parameters: number, random: RandomSource): Float64Array {
  return Float64Array.from({ length: parameters }, () => {
    for (;;) {
      const z = random.normal();
      if (Math.abs(z) < 3) return z;
    }
  });
}

/**
 * A bench with known true values: what the meters would show, with their noise. The supply is set and the load drawn as the meters show
 * them, both with their error, so that what is written down is not quite what the circuit had.
 */
export function synthesise(
  design: Design,
  links: FitLinks,
  plan: readonly PlannedReading[],
  random: RandomSource,
  model: 'quick' | 'exact',
): SyntheticBench {
  const planned = withReadings(design, plan.map(blank));
  const bench: Bench = benchOf(planned, links.bench);
  const truth = drawTruth(bench.parameters.length, random);
  const state: BenchState = stateAt(bench.boards, bench.parameters, truth);
  const { meters } = design;
  const mostAt = new Map<string, number>();
  const readings = plan.flatMap((wanted, index): Partial<ReadingDocument>[] => {
    const { pose } = bench.readings[index];
    const link = benchElectrical(links.bench[pose], pose, state);
    const supplyV = wanted.supplyV;
    const boards = benchBoards(state, supplyV);
    const key = `${pose} ${supplyV}`;
    const most =
      mostAt.get(key) ??
      (model === 'quick' ? quickMost(link, boards) : exactPrediction(link, boards, 0.1, true).maxOutputA);
    mostAt.set(key, most);
    // Where the true bench holds next to nothing there is nothing to read.
    if (most < LEAST_A) return [];
    const loadA = wanted.share * most;
    const regulated = wanted.share <= 1;
    const noisy = (value: number, sigma: number): number => value + sigma * random.normal();
    const shown = {
      ...blank(wanted),
      supplyV: noisy(supplyV, meterSigma(meters, 'voltage', supplyV)),
      // The step of the load just beyond collapse carries the accuracy of the limit.
      outputA: noisy(loadA, regulated ? meterSigma(meters, 'current', loadA) : limitSigma(meters, loadA)),
      regulated,
    };
    if (!regulated) return [shown];
    const seen: Prediction =
      model === 'quick' ? quickPrediction(link, boards, loadA) : exactPrediction(link, boards, loadA, false);
    const read = (quantity: Quantity): number =>
      noisy(seen[quantity], instrumentSigma(meters, quantity, seen[quantity]));
    const has = (quantity: Quantity): boolean => wanted.quantities.includes(quantity);
    return [
      {
        ...shown,
        supplyA: has('supplyA') ? read('supplyA') : null,
        outputV: has('outputV') ? read('outputV') : null,
        frequencyKhz: has('frequencyHz') ? read('frequencyHz') / 1e3 : null,
        rectifiedV: has('rectifiedV') ? read('rectifiedV') : null,
        receiverC: has('receiverC') ? read('receiverC') : null,
        transmitterC: has('transmitterC') ? read('transmitterC') : null,
      },
    ];
  });
  return { design: withReadings(design, readings), truth };
}

/** The pieces of a fit with the quick model in the exact one's place: for benches that were made with it, at a tenth of the time. */
export const QUICK_WORK: FitWork = Object.freeze({
  ...LOCAL_WORK,
  exact: async (bench: Bench, z: Float64Array, from: number, to: number) => {
    const state = stateAt(bench.boards, bench.parameters, z);
    const quick = bench.readings.slice(from, to).map((reading) => {
      const link = benchElectrical(bench.links[reading.pose], reading.pose, state);
      const boards = benchBoards(state, reading.supplyV);
      return { ...quickPrediction(link, boards, reading.loadA), maxOutputA: quickMost(link, boards) };
    });
    return { exact: quick, quick };
  },
  answers: async (asked: Asked, draws: readonly Draw[]) => answersOf(asked, draws, 'quick'),
  curve: async (bench: Bench, _z: Float64Array, { pose, supplyV, readings }: CurveGroup) => ({
    pose,
    poseName: bench.poses[pose].name,
    supplyV,
    loadA: new Float64Array(0),
    efficiency: new Float64Array(0),
    collapseA: 0,
    readings,
  }),
});
