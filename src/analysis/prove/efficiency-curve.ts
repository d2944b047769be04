import { maxOutput } from '../../physics/circuit/max-output.ts';
import type { Bench } from './bench.ts';
import { exactPrediction } from './bench-prediction.ts';
import { benchBoards, benchElectrical, stateAt } from './bench-state.ts';

/** Readings of one place and one supply voltage, and the fitted model's efficiency against load there. */
export interface EfficiencyCurve {
  readonly pose: number;
  readonly poseName: string;
  readonly supplyV: number;
  readonly loadA: Float64Array;
  readonly efficiency: Float64Array;
  /** Where the model leaves regulation, A. */
  readonly collapseA: number;
  /** Places of the readings in the design's list. */
  readonly readings: readonly number[];
}

/** A group of readings for which one curve serves. */
export interface CurveGroup {
  readonly pose: number;
  readonly supplyV: number;
  readonly readings: readonly number[];
}

/** Supply voltages closer than this count as the same. */
const SAME_SUPPLY = 0.05;
const POINTS = 14;
/** Loads stand closer where the curve bends, at its light end. */
const BEND = 1.6;

/** Readings grouped by place and supply voltage, in order of first use. */
export function curveGroups(bench: Bench): CurveGroup[] {
  const groups: { pose: number; volts: number[]; readings: number[] }[] = [];
  for (const { pose, supplyV, index } of bench.readings) {
    const known = groups.find((group) => group.pose === pose && Math.abs(group.volts[0] / supplyV - 1) < SAME_SUPPLY);
    if (known === undefined) groups.push({ pose, volts: [supplyV], readings: [index] });
    else {
      known.volts.push(supplyV);
      known.readings.push(index);
    }
  }
  return groups.map(({ pose, volts, readings }) => ({
    pose,
    readings,
    supplyV: volts.reduce((sum, value) => sum + value, 0) / volts.length,
  }));
}

/** The curve of one group by the exact circuit: efficiency from the supply's terminals to the output, up to collapse. */
export function efficiencyCurve(bench: Bench, z: Float64Array, group: CurveGroup): EfficiencyCurve {
  const state = stateAt(bench.boards, bench.parameters, z);
  const link = benchElectrical(bench.links[group.pose], group.pose, state);
  const boards = benchBoards(state, group.supplyV);
  const collapseA = maxOutput(link, boards, { tier: 'exact', ignoreThermal: true }).current;
  const end = collapseA > 0 ? 0.998 * collapseA : 0;
  const loadA = Float64Array.from(
    { length: end > 0 ? POINTS : 0 },
    (_, k) => end * (0.03 + 0.97 * (k / (POINTS - 1)) ** BEND),
  );
  const efficiency = loadA.map((amps) => {
    const { outputV, supplyA } = exactPrediction(link, boards, amps, false);
    return (outputV * amps) / (group.supplyV * supplyA);
  });
  return {
    pose: group.pose,
    poseName: bench.poses[group.pose].name,
    supplyV: group.supplyV,
    loadA,
    efficiency,
    collapseA,
    readings: group.readings,
  };
}
