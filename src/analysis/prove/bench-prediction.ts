import { batchMaxOutput, maxOutputBatch } from '../../physics/circuit/batch-max-output.ts';
import { batchOperate, operateBatch } from '../../physics/circuit/batch-operate.ts';
import { lossesOf, receiverLoss, transmitterLoss } from '../../physics/circuit/losses.ts';
import { maxOutput } from '../../physics/circuit/max-output.ts';
import { solveLoad } from '../../physics/circuit/operating-point.ts';
import { temperatures } from '../../physics/circuit/thermal.ts';
import type { Boards, LinkElectrical } from '../../physics/circuit/types.ts';

/** What the model says a bench would show for one reading. SI, temperatures in C. */
export interface Prediction {
  readonly supplyA: number;
  readonly frequencyHz: number;
  readonly rectifiedV: number;
  readonly outputV: number;
  readonly receiverC: number;
  readonly transmitterC: number;
  /** Largest current in regulation, A. NaN where it was not asked for. */
  readonly maxOutputA: number;
}

/** The numbers of a prediction, in the order of corrections. */
export const PREDICTED = [
  'supplyA',
  'frequencyHz',
  'rectifiedV',
  'outputV',
  'receiverC',
  'transmitterC',
  'maxOutputA',
] as const satisfies readonly (keyof Prediction)[];

const operated = operateBatch(1);
const most = maxOutputBatch(1);
const one = { l1: new Float64Array(1), l2: new Float64Array(1), m: new Float64Array(1) };
const COLD = Object.freeze({ ignoreThermal: true });

/** Closed loop by first harmonic, copper at ambient, without the largest current: some tens of microseconds. */
export function quickPrediction(link: LinkElectrical, boards: Boards, loadA: number): Prediction {
  const { thermal, pickup, drive } = boards;
  one.l1[0] = link.l1;
  one.l2[0] = link.l2;
  one.m[0] = link.m;
  const batch = { ...one, r1: link.r1, r2: link.r2 };
  batchOperate(batch, boards, loadA, operated);
  const supplyA = operated.supplyA[0];
  const rectifiedV = operated.rectifiedV[0];
  const { regulator } = pickup;
  const outputV = Math.max(
    0,
    Math.min(regulator.outputV, rectifiedV - regulator.dropoutV - regulator.dropoutResistance * loadA),
  );
  const received = operated.receiverLoss[0];
  const sent = drive.supplyV * supplyA - drive.supplyResistance * supplyA ** 2 - received - outputV * loadA;
  const heat = temperatures(thermal, received, sent);
  return {
    supplyA,
    frequencyHz: operated.frequency[0],
    rectifiedV,
    outputV,
    receiverC: heat.receiverC,
    transmitterC: heat.transmitterC,
    maxOutputA: Number.NaN,
  };
}

/** Largest current in regulation by first harmonic, heat left out: readings are short. */
export function quickMost(link: LinkElectrical, boards: Boards): number {
  one.l1[0] = link.l1;
  one.l2[0] = link.l2;
  one.m[0] = link.m;
  return batchMaxOutput({ ...one, r1: link.r1, r2: link.r2 }, boards, most, COLD).current[0];
}

/**
 * The same by the exact waveform of the switched circuit with warm copper: some milliseconds; what the last stage of the fit stands on.
 *
 * @param withMost also the largest current, which costs more than all else.
 */
export function exactPrediction(link: LinkElectrical, boards: Boards, loadA: number, withMost: boolean): Prediction {
  const { delivery, outputA, outputV } = solveLoad(link, boards, loadA, 'exact');
  const losses = lossesOf(boards.drive, delivery, outputV * outputA);
  const heat = temperatures(boards.thermal, receiverLoss(losses), transmitterLoss(losses));
  return {
    supplyA: delivery.supplyA,
    frequencyHz: delivery.setting.frequency,
    rectifiedV: delivery.rectifiedV,
    outputV,
    receiverC: heat.receiverC,
    transmitterC: heat.transmitterC,
    maxOutputA: withMost ? maxOutput(link, boards, { tier: 'exact', ignoreThermal: true }).current : Number.NaN,
  };
}
