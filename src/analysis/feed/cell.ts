import type { CellDocument } from '../../design/types.ts';

/** Seconds in an hour. */
export const HOUR_S = 3600;

/** A cell as charge time and runtime see it, SI. */
export interface Cell {
  /** C */
  readonly capacity: number;
  /** Voltage that the charger holds at the end, V. */
  readonly chargeV: number;
  /** ohm */
  readonly resistance: number;
  /** Current at which charging ends, A. */
  readonly cutoffA: number;
  /** Rising from 0 to 1. */
  readonly charge: Float64Array;
  /** Voltage at rest at these charges, V, not falling. */
  readonly restV: Float64Array;
}

/** A cell of the design. Without a curve its voltage at rest is a straight line from empty to the charge voltage. */
export function cellOf(step: CellDocument): Cell {
  const line: [number, number][] = [
    [0, step.emptyV],
    [1, step.chargeVoltageV],
  ];
  const points = step.restV.length > 0 ? step.restV : line;
  return {
    capacity: step.capacityAh * HOUR_S,
    chargeV: step.chargeVoltageV,
    resistance: step.resistanceOhm,
    cutoffA: step.cutoffA,
    charge: Float64Array.from(points, ([charge]) => charge),
    restV: Float64Array.from(points, ([, volts]) => volts),
  };
}

/** Voltage at rest, V; the ends are held beyond 0 and 1. */
export function restVoltage(cell: Cell, charge: number): number {
  const { charge: q, restV } = cell;
  const last = q.length - 1;
  if (!(charge > q[0])) return restV[0];
  if (charge >= q[last]) return restV[last];
  let i = 1;
  while (q[i] < charge) i++;
  return restV[i - 1] + ((charge - q[i - 1]) / (q[i] - q[i - 1])) * (restV[i] - restV[i - 1]);
}

/** The largest charge at which the voltage at rest is at most `volts`: 0 below the curve, 1 above it. */
export function chargeAtRest(cell: Cell, volts: number): number {
  const { charge: q, restV } = cell;
  if (volts < restV[0]) return 0;
  for (let i = q.length - 1; i > 0; i--) {
    if (restV[i] <= volts) return q[i];
    if (restV[i - 1] <= volts)
      return q[i - 1] + ((volts - restV[i - 1]) / (restV[i] - restV[i - 1])) * (q[i] - q[i - 1]);
  }
  return q[0];
}

/** Energy between two charges at rest, J: the area under the curve. */
export function restEnergy(cell: Cell, from: number, to: number): number {
  const { charge: q } = cell;
  let sum = 0;
  for (let i = 1; i < q.length; i++) {
    const a = Math.min(Math.max(from, q[i - 1]), q[i]);
    const b = Math.min(Math.max(to, q[i - 1]), q[i]);
    if (b > a) sum += ((b - a) * (restVoltage(cell, a) + restVoltage(cell, b))) / 2;
  }
  return cell.capacity * sum;
}
